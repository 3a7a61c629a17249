"""The question how to block a cook is paused, the program ends, and starts again: asked the same,
it shows what it had found and goes on from there.

The twelve pentominoes in the box of 2 by 5 by 6 (264 assemblies and their mirror images: C. J.
Bouwkamp, Packing a rectangular box with the twelve solid pentominoes, J. Combinatorial Theory 7,
1969) have more cooks than anybody wants, and nearly each change needs a search of its own."""

import os
import sys

from driver import Workbench, wait
from fives import write_design

SHOTS = sys.argv[1] if len(sys.argv) > 1 else None


def shoot(bench, name):
    if SHOTS:
        bench.shoot(os.path.join(SHOTS, name + '.png'))


path = os.path.join(os.environ['NW_HOME'], 'fives.json')
write_design(path, (2, 5, 6))
with Workbench(path) as bench:
    bench.says('^12 pieces$')
    bench.key('F5')
    bench.find('Complete', 'push button', bench.found, 60)
    bench.click(bench.find('opens', 'label', bench.found))
    bench.press('Make This the Intended One', within=bench.found)
    bench.says('^527 cooks$', bench.found)
    bench.click(bench.find('cook', 'label', bench.found))
    bench.press('Block This…', within=bench.found)
    panel = bench.find('Ways to block a cook', 'panel')
    bench.says('^Being checked$', panel, 60)
    shoot(bench, 'being-checked')
    import time
    for i in range(6):
        time.sleep(5)
        print([l for l in bench.labels(panel)][:40])
        shoot(bench, 'being-checked-%d' % i)
    bench.quit()
