"""Nothing of a solid hides behind the buttons of the view, however it is looked at, with the strip of
slides and without, in a low window too; and the picture of the view that is saved is whole.

    all_in_view.py CATALOGUES

The bundled designs, and one that a die draws; NW_SEED throws it again. In German the buttons of a small
window take two rows."""

import gettext
import json
import os
import random
import re
import subprocess
import sys

from driver import Pixels, Workbench, is_solid, wait, words_of

home = os.environ['NW_HOME']
catalogues = sys.argv[1]
seed = os.environ.get('NW_SEED') or str(random.SystemRandom().randrange(10**9))
MARGIN = 6  # pixels between the buttons and what is seen below them, at least
FRAME = 10  # pixels that buttons reach down beyond what is told of them


def throw(seed):
    """Cells grown at random, the greater half of them one piece and the rest another."""
    die = random.Random(seed)
    cells = [(0, 0, 0)]
    while len(cells) < 14:
        cell, axis, step = die.choice(cells), die.randrange(3), die.choice((-1, 1))
        grown = tuple(c + (step if k == axis else 0) for k, c in enumerate(cell))
        if grown not in cells and max(map(abs, grown)) < 4:
            cells.append(grown)
    cells = [(a + 4, b + 4, c + 4) for a, b, c in cells]
    solid = [[*cell, 31] for cell in cells]
    return {'format': 'notchwright design', 'version': 1, 'name': 'Thrown',
            'envelope': {'cells': sorted(solid)},
            'pieces': [{'name': 'A', 'colour': '#0072b2', 'cells': sorted(solid[:8])},
                       {'name': 'B', 'colour': '#e69f00', 'cells': sorted(solid[8:])}]}


def buttons_end(bench, _):
    """Where the row of buttons ends, or the rows, on the screen."""
    ends = []
    for name in ('See-through', 'View', 'Move the pieces apart'):
        place = bench._place(bench.find(_(name)))
        ends.append(place[1] + place[3] + FRAME)
    return max(ends)


def check(bench, view, what, _=str):
    end = buttons_end(bench, _)
    left, top, right, bottom = bench.picture(view).box(is_solid)
    place = bench._place(view)
    assert top >= end + MARGIN, (what, seed, top, end)
    assert bottom <= place[1] + place[3] - MARGIN, (what, seed, bottom, place)
    assert left >= place[0] + MARGIN and right <= place[0] + place[2] - MARGIN, (what, seed)
    assert max(right - left, bottom - top) >= 0.4 * min(place[2], place[1] + place[3] - end), (what, seed)


def check_from(bench, view, what, keys=('Home', '1', '9')):
    bench.click(view, 0.06, 0.97)  # beside the solid: for the keys
    for key in keys:
        before = words_of(view)
        bench.key(key)
        wait(lambda: words_of(view) != before or key == 'Home', f'{key} to turn the view')
        check(bench, view, f'{what}, {key}')
    bench.key('Home')


def check_small(bench, _):
    """As small as a screen may be, with the slides and a notice above: little is left to the view."""
    view = bench.find(_('View of the solid'))
    bench.key('F5')
    bench.find(_('Complete'), 'push button')
    bench.click(bench.find(_('intended'), 'label'))
    bench.find(_('Slides'), 'panel')
    bench.resize('Notchwright', 800, 600)
    check(bench, view, 'small', _)
    bench.point_at(bench.find('6 .*', 'label'))
    bench.key('ctrl+j')
    bench.says(re.escape(_('Point at a part in the sketch or the layers and press Ctrl+J, or '
                           'select one part first.')))
    bench.moved()
    check(bench, view, 'small, with a notice', _)
    for key in ('1', '9'):
        bench.click(view, 0.06, 0.97)
        bench.key(key)
        check(bench, view, f'small, with a notice, {key}', _)


def save_picture(bench, view, name):
    """By the real dialog; returns the path."""
    path = os.path.join(home, name)
    bench.key('ctrl+p')
    bench.x_window('Save a picture')
    bench.key('ctrl+a')
    bench.type(path)
    bench.key('Return')
    bench.closed('Save a picture')
    wait(lambda: os.path.exists(path), 'the picture')
    return path


def check_picture(bench, view, path):
    """Twice as large as the view, the solid whole in it, in the colours of the view."""
    told = subprocess.run(['identify', '-format', '%m %w %h', path], check=True,
                          capture_output=True, text=True).stdout.split()
    _, _, width, height = bench._place(view)
    assert told == ['PNG', str(2 * width), str(2 * height)], told
    saved = Pixels((0, 0, 2 * width, 2 * height), path)
    left, top, right, bottom = saved.box(is_solid)
    assert left > 20 and top > 20 and right < 2 * width - 20 and bottom < 2 * height - 20
    assert max(right - left, bottom - top) > height
    seen = list(bench.picture(view).places(is_solid))
    share = len(list(saved.places(is_solid))) / len(seen) / 4
    assert 0.8 < share < 3, share  # larger: no buttons take room from it
    corner = saved.at((2, 2))
    assert not is_solid(*corner) and corner != (0, 0, 0), corner


with Workbench() as bench:
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    view = bench.find('View of the solid')
    check_from(bench, view, 'sketch', ('Home', '7'))
    check_picture(bench, view, save_picture(bench, view, 'sketch.png'))
    bench.key('F5')
    bench.find('Complete', 'push button', bench.found)
    bench.click(bench.find('intended', 'label', bench.found))
    bench.tells(view, '^Assembly')
    check_from(bench, view, 'assembly')
    bench.key('alt+2')
    check_picture(bench, view, save_picture(bench, view, 'assembly.png'))
    bench.key('alt+1')
    bench.resize('Notchwright', 1100, 620)
    check_from(bench, view, 'low window')
    bench.quit()

for language in ('en', 'de'):
    _ = gettext.translation('notchwright', catalogues, [language], fallback=True).gettext
    with Workbench(LANGUAGE=language, NW_LOCALE_DIR=catalogues) as bench:
        bench.find(_('Undo'), 'push button')
        check_small(bench, _)
        bench.quit()

path = os.path.join(home, 'thrown.json')
with open(path, 'w', encoding='utf-8') as file:
    json.dump(throw(seed), file)
with Workbench(path) as bench:
    bench.says('^2 pieces$')
    bench.resize('Notchwright', 1280, 720)
    check_from(bench, bench.find('View of the solid'), 'thrown')
    bench.quit()
