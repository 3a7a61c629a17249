"""From a design to what is held in the hand: nets of card as a PDF, cut lists into a folder, and a
mesh that is stopped halfway. What cannot be made says why; what was chosen is there again."""

import json
import os
import re
import subprocess
import time

from driver import Workbench, focused, is_enabled, is_on, name_of, value_of, wait

HOME = os.environ['NW_HOME']


def enter(bench):
    """To the page by its key; the focus lands on the list."""
    bench.key('ctrl+m')
    page = bench.find('Make', 'panel')
    wait(lambda: len(focused(page)) == 1, 'the focus to be on the page')
    return page


def leave(bench, key):
    bench.key(key)
    wait(lambda: focused(bench.root) == ['Make…'], 'the bench again')


def choose(bench, page, name):
    """Goes to a product of the list; returns its title."""
    row = bench.find(name, 'list item', page)
    bench.click(row)
    wait(lambda: focused(page) == [name_of(row)], f'{name!r} to be chosen')
    return name_of(row)


def make(bench, page, title, path):
    """Presses Make and types where to."""
    bench.press('Make…', within=page)
    bench.x_window(title)
    time.sleep(0.5)  # GTK's dialog takes the keys only when it has listed the folder
    bench.key('ctrl+a')
    bench.type(path)
    bench.key('Return')


def make_nets(bench):
    page = enter(bench)
    title = choose(bench, page, 'Card Nets')
    bench.says('^Before You Start$', page)
    bench.says('^Knives: ', page)
    spin = bench.find('Cell size', 'spin button', page)
    bench.replace(spin, '25')
    make(bench, page, title, f'{HOME}/nets')  # the ending comes by itself
    bench.says('^1 file saved in', page)
    pages = int(bench.says(r'pages: (\d+)', page).group(1))
    told = subprocess.run(['pdfinfo', f'{HOME}/nets.pdf'], check=True, capture_output=True,
                          text=True).stdout
    assert re.search(r'^Pages: +(\d+)$', told, re.M).group(1) == str(pages), told
    assert 'A4' in told, told
    wait(lambda: focused(bench.root) == ['Make…'], 'the button to have the focus again')
    leave(bench, 'Escape')


def make_cuts(bench):
    page = enter(bench)
    title = choose(bench, page, 'Cutting Lists')
    bench.says('existing files with the same names are replaced', page)
    bench.says('^Saws: ', page)
    os.mkdir(f'{HOME}/cuts')
    make(bench, page, title, f'{HOME}/cuts/')
    bench.says('^[3-9] files saved in .*cuts”$', page)
    assert 'panels.svg' in os.listdir(f'{HOME}/cuts'), os.listdir(f'{HOME}/cuts')
    leave(bench, 'alt+Left')


def is_refused(bench):
    """A piece without parts is in the way, until it is taken back."""
    bench.press('New piece', within=bench.pieces)
    page = enter(bench)
    choose(bench, page, '3D Models')
    bench.says('has no parts', page)
    assert not is_enabled(bench.find('Make…', 'push button', page))
    leave(bench, 'Escape')
    bench.press('Undo')
    page = enter(bench)
    wait(lambda: is_enabled(bench.find('Make…', 'push button', page)), 'it to be made again')
    leave(bench, 'Escape')


def write_brushes(path, size=15, count=8):
    """Plates of pillars in plates with holes, in a stack: meshes of faces with many holes take a
    while, piece by piece."""
    def in_first(x, y, z):
        return z == 0 or (z == 1 and x % 2 and y % 2)
    box, pieces = [], []
    for k in range(count):
        slab = [[x, y, z, 31] for x in range(size) for y in range(size) for z in range(3)]
        for name, first in ((f'Pillars {k}', True), (f'Holes {k}', False)):
            pieces.append({'name': name, 'cells': [[x, y, z + 3 * k, mask] for x, y, z, mask in slab
                                                   if in_first(x, y, z) == first]})
        box += [[x, y, z + 3 * k, mask] for x, y, z, mask in slab]
    intended = [{'piece': i, 'turn': '+x+y+z', 'shift': [0, 0, 0]} for i in range(len(pieces))]
    with open(path, 'w', encoding='utf-8') as file:
        json.dump({'format': 'notchwright design', 'version': 1, 'name': 'Brushes',
                   'envelope': {'cells': box}, 'pieces': pieces, 'intended': intended}, file)


def begin_mesh(bench, page, title):
    make(bench, page, title, f'{HOME}/brush')
    wait(lambda: focused(page) == ['Stop'], 'it to be at work')
    time.sleep(0.5)


def stop_a_mesh(bench):
    page = enter(bench)
    title = choose(bench, page, '3D Models')
    prove = bench.find('Check clearance on the way out', 'check box', page)
    bench.click(prove, 0.9)
    wait(lambda: is_on(prove), 'the proof to be wanted')
    for press in ('pointer', 'key'):
        begin_mesh(bench, page, title)
        if press == 'pointer':
            bench.press('Stop', within=page)
        else:
            bench.key('space')
        begin = time.monotonic()
        bench.says('^Stopped; nothing was saved$', page)
        print(f'stopped within {time.monotonic() - begin:.2f} s')
        assert is_on(prove), 'what was chosen is lost'
        bench.press('Close', within=page)
    begin_mesh(bench, page, title)
    begin = time.monotonic()
    bench.quit()  # in the middle of it
    print(f'closed in {time.monotonic() - begin:.2f} s')


with Workbench() as bench:
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    make_nets(bench)
    make_cuts(bench)
    is_refused(bench)
    bench.quit()
write_brushes(f'{HOME}/brush.json')
with Workbench(f'{HOME}/brush.json') as bench:
    bench.says('^16 pieces$')
    page = enter(bench)
    choose(bench, page, 'Card Nets')
    assert value_of(bench.find('Cell size', 'spin button', page)) == 25, 'it was chosen'
    leave(bench, 'Escape')
    stop_a_mesh(bench)
left = [name for name in os.listdir(HOME) if name.startswith('brush') and name != 'brush.json']
assert not left, left
