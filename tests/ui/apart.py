"""Fourteen pieces in a cube of 5 cells, whose assemblies nobody could list: the line below the view
tells how they come apart as they are drawn, one press shows it, another makes it the intended
assembly, and a search lists it before all others."""

import os

from dissection import write_design
from driver import Workbench

path = os.path.join(os.environ['NW_HOME'], 'fourteen.json')
write_design(path, 'Fourteen', 5, 14)
with Workbench(path) as bench:
    bench.says('^14 pieces$')
    line = bench.find('How the design comes apart', 'panel')
    levels = bench.says(r'^The pieces as drawn come apart: ((?:\d+·){12}\d+)$', line).group(1)
    slides = sum(map(int, levels.split('·')))

    bench.press('Take Apart', within=line)
    bench.says(f'{slides} slides take it apart', bench.strip)
    bench.key('ctrl+r')
    bench.gone('Slides', 'panel')

    # Each stroke is looked at: what is taken from a piece leaves no assembly.
    bench.press('Erase', None, bench.painting)
    bench.click(bench.find('Layers', 'image', bench.painting), 0.12, 0.4)
    bench.says('^The pieces as drawn are not an assembly yet', line)
    bench.gone('Take Apart', 'push button', line)
    bench.key('ctrl+z')
    bench.says(f'^The pieces as drawn come apart: {levels}$', line)

    # The search lists it first.
    bench.press('Search', within=bench.found)
    bench.find('as drawn', within=bench.found)

    bench.press('Make Intended', within=line)
    bench.says(f'^Comes apart: {levels}$', line)
    bench.key('ctrl+z')
    bench.says(f'^The pieces as drawn come apart: {levels}$', line)
    bench.quit()
