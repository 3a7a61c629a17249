"""Pieces of the same shape become copies: by the button that is offered, undone and done again; and
by Spread about the turns of the outside shape, which makes copies by itself.

By hand: two bars of three, a cell and a bar of two fill a plate of 3 x 3 in 3 ways while the long
bars are told apart, for their own row lies in the middle or at an edge with either bar beside it;
as copies in 2. The tetrahedron 4 has six edges, and its turns carry each to all."""

import json
import os
import subprocess
import sys

from driver import Workbench, value_of, wait

NOTCH = sys.argv[1]
SHOTS = sys.argv[2] if len(sys.argv) > 2 else None
HOME = os.environ['NW_HOME']


def row(x, y, length):
    return [[x + i, y, 0, 31] for i in range(length)]


def save_bars():
    pieces = [('long bar 1', row(0, 0, 3)), ('cell', row(0, 1, 1)), ('long bar 2', row(0, 2, 3)),
              ('short bar', row(1, 1, 2))]
    design = {
        'format': 'notchwright design', 'version': 1, 'name': 'Bars in a plate',
        'envelope': {'cells': row(0, 0, 3) + row(0, 1, 3) + row(0, 2, 3)},
        'pieces': [{'name': name, 'cells': cells} for name, cells in pieces],
    }
    path = os.path.join(HOME, 'bars.json')
    with open(path, 'w') as file:
        json.dump(design, file)
    return path


def save_edge():
    """What four cells in the middle of one edge of the tetrahedron have of it."""
    told = subprocess.run([NOTCH, 'solid', 'tetrahedron', '4', '--name', 'Six edges'],
                          capture_output=True, check=True, encoding='utf-8')
    design = json.loads(told.stdout)
    design['pieces'] = [{'name': 'edge', 'cells': [
        cell for cell in design['envelope']['cells'] if cell[0] in (1, 2) and cell[1] in (1, 2)
        and cell[2] == 0]}]
    path = os.path.join(HOME, 'edges.json')
    with open(path, 'w') as file:
        json.dump(design, file)
    return path


def shoot(bench, name):
    if SHOTS:
        bench.shoot(os.path.join(SHOTS, name + '.png'))


def search(bench, found):
    bench.key('F5')
    bench.says(f'^{found} assemblies$', bench.found)
    bench.find('Complete', 'push button', bench.found)


def by_the_button(bench):
    bench.says('^long bar 1 and long bar 2 are the same shape.$', bench.pieces)
    search(bench, 3)
    shoot(bench, 'same-shape')
    bench.press('Make Copies', within=bench.pieces)
    bench.gone('long bar 1 and long bar 2 are the same shape.', 'label', bench.pieces)
    bench.find('Piece long bar', 'list item', bench.pieces)
    bench.gone('Piece long bar 2', 'list item', bench.pieces)
    bench.says('^Every part is used', bench.pieces)
    search(bench, 2)
    shoot(bench, 'copies')
    bench.key('ctrl+z')
    bench.find('Piece long bar 2', 'list item', bench.pieces)
    bench.says('^long bar 1 and long bar 2 are the same shape.$', bench.pieces)
    bench.key('ctrl+shift+z')
    bench.find('Piece long bar', 'list item', bench.pieces)
    bench.says('^2 assemblies$', bench.found)


def by_spreading(bench):
    """Six copies from one piece; they stand where its images are, and one step back is one."""
    edge = bench.find('Piece edge', 'list item', bench.pieces)
    bench.click(edge, 0.3, 0.3)
    left = bench.says('^Unused: (.*)$', bench.pieces)[1]
    bench.unfold(bench.find('More about the chosen piece', within=bench.pieces))
    bench.key('Home', 'Down', 'Down', 'Down', 'Return')
    bench.says(f'^Unused: (?!{left}$)', bench.pieces)
    assert len(bench.look_all('Piece .*', 'list item', bench.pieces)) == 1
    copies = bench.find(role='spin button', within=bench.pieces)
    wait(lambda: value_of(copies) == 6, 'six copies')
    shoot(bench, 'spread')
    bench.key('ctrl+z')
    bench.says(f'^Unused: {left}$', bench.pieces)


def main():
    with Workbench(save_bars()) as bench:
        by_the_button(bench)
        bench.quit()
    with Workbench(save_edge()) as bench:
        by_spreading(bench)
        bench.quit()


main()
