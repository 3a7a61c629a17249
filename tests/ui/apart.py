"""Fourteen pieces in a cube of 5 cells, whose assemblies nobody could list: the line below the view
tells how they come apart as they are drawn, one press shows it, another makes it the intended
assembly, and a search lists it before all others."""

import json
import os
import random

from driver import Workbench

SIZE, PIECES = 5, 14


def cut(seed):
    """The cells of the cube, grown at random into connected pieces."""
    dice = random.Random(seed)
    cells = [(x, y, z) for x in range(SIZE) for y in range(SIZE) for z in range(SIZE)]
    owner = {cell: piece for piece, cell in enumerate(dice.sample(cells, PIECES))}
    while len(owner) < len(cells):
        (x, y, z), piece = dice.choice(sorted(owner.items()))
        step = dice.choice([(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)])
        there = (x + step[0], y + step[1], z + step[2])
        if there in set(cells) - set(owner):
            owner[there] = piece
    return cells, owner


def write_design(path):
    cells, owner = cut(1)
    pieces = [{'name': chr(ord('A') + piece),
               'cells': [[*cell, 31] for cell in cells if owner[cell] == piece]}
              for piece in range(PIECES)]
    with open(path, 'w', encoding='utf-8') as file:
        json.dump({'format': 'notchwright design', 'version': 1, 'name': 'Fourteen',
                   'envelope': {'cells': [[*cell, 31] for cell in cells]}, 'pieces': pieces}, file)


path = os.path.join(os.environ['NW_HOME'], 'fourteen.json')
write_design(path)
with Workbench(path) as bench:
    bench.says('^14 pieces$')
    line = bench.find('How the design comes apart', 'panel')
    levels = bench.says(r'^As drawn, it comes apart: ((?:\d+·){12}\d+)$', line).group(1)
    slides = sum(map(int, levels.split('·')))

    bench.press('Take Apart', within=line)
    bench.says(f'{slides} slides take it apart', bench.strip)
    bench.key('ctrl+r')
    bench.gone('Slides', 'panel')

    # Each stroke is looked at: what is taken from a piece leaves no assembly.
    bench.press('Take', None, bench.painting)
    bench.click(bench.find('Layers', 'image', bench.painting), 0.12, 0.4)
    bench.says('^As drawn, this is no assembly yet', line)
    bench.gone('Take Apart', 'push button', line)
    bench.key('ctrl+z')
    bench.says(f'^As drawn, it comes apart: {levels}$', line)

    # The search lists it first.
    bench.press('Search', within=bench.found)
    bench.find('as drawn', within=bench.found)

    bench.press('Make Intended', within=line)
    bench.says(f'^Comes apart: {levels}$', line)
    bench.key('ctrl+z')
    bench.says(f'^As drawn, it comes apart: {levels}$', line)
    bench.quit()
