"""Nothing is off-screen: on every page and in every dialog the window fits the screen that the
scenario is given, the least size that it asks for does so too, and every control lies inside its
window, or where it can be scrolled to.

    fits.py CATALOGUES LANGUAGE

The screen is that of NW_SCREEN and the size of the text that of NW_TEXT (`run`). A window asks for
as much as its largest page needs, so its size on the screen, with the frame of the window manager,
is the measure: what does not fit pushes it over the edge of the screen.
"""

import gettext
import os
import re
import subprocess
import sys
import time

import gi

gi.require_version('Atspi', '2.0')
from gi.repository import Atspi  # noqa: E402

from driver import Workbench, name_of, walk, x  # noqa: E402

catalogues, language = sys.argv[1:3]
if language != 'en' and not os.path.exists(f'{catalogues}/{language}/LC_MESSAGES/notchwright.mo'):
    print('Skipped: the translations are not built.')
    sys.exit(77)
_ = gettext.translation('notchwright', catalogues, [language], fallback=True).gettext
screen = tuple(map(int, os.environ['NW_SCREEN'].split('x')))
SHOTS, SIZE = os.environ['NW_SHOTS'], os.environ['NW_SCREEN'] + '-' + os.environ.get('NW_TEXT', '100')
# What is to be in sight, whatever else has to be scrolled to.
HEAD = ['All designs', 'Undo', 'Redo', 'Menu']
VIEW = ['Solid', 'See-through', 'Lines', 'Move the pieces apart']
STRIP = ['To the start', 'To the end', 'Position on the way out', 'Blockers']
faults = []


def boxes(frame, names):
    """Where the first thing under each name lies, by one walk: a walk takes a while. What is on
    another page has no place."""
    sought, found = {_(name) for name in names}, {}
    for thing in walk(frame) if names else ():
        if name_of(thing) in sought:
            box = Atspi.Component.get_extents(thing, Atspi.CoordType.WINDOW)
            if box.width > 0:
                found[name_of(thing)] = box
                sought.remove(name_of(thing))
        if not sought:
            break
    assert not sought, f'nothing in sight is called {sought}'
    return found


def check(bench, name, title, *names):
    """The window of that title, and what is in it under those names."""
    time.sleep(0.8)
    window = bench.x_window(title)
    place = dict(line.split('=') for line in x('getwindowgeometry', '--shell', window).splitlines())
    left, top, width, height = (int(place[key]) for key in ('X', 'Y', 'WIDTH', 'HEIGHT'))
    hints = subprocess.run(['xprop', '-id', window, 'WM_NORMAL_HINTS'], check=True,
                           capture_output=True, text=True).stdout
    least = tuple(map(int, re.search(r'minimum size: (\d+) by (\d+)', hints).groups()))
    print(f'{name}: {width}×{height} at {left},{top}, at least {least[0]}×{least[1]}', flush=True)
    bench.shoot(f'{SHOTS}/fits-{SIZE}-{language}-{name}.png')
    if left < 0 or top < 0 or left + width > screen[0] or top + height > screen[1]:
        faults.append(f'{name}: the window is {width}×{height} at {left},{top}')
    if least[0] > screen[0] or least[1] > screen[1]:
        faults.append(f'{name}: the window is never smaller than {least[0]}×{least[1]}')
    frame = bench.find(f'(.+ – )?{re.escape(title)}', 'frame')
    for control, box in boxes(frame, names).items():
        if min(box.x, box.y) < 0 or box.x + box.width > width or box.y + box.height > height:
            faults.append(f'{name}: {control!r} is at {box.x},{box.y} and {box.width}×{box.height}')
        if box.width < 10 or box.height < 10:
            faults.append(f'{name}: {control!r} is only {box.width}×{box.height}')


def check_list(bench, name):
    """Of the list nothing is cut at the right, where the numbers are."""
    found = bench.find(_('Assemblies found'), 'panel')
    table, number = (bench.extents(bench.find(what, role, found))
                     for what, role in ((None, 'tree table'), (_('No.'), None)))
    print(f'{name}: the list ends at {table.x + table.width}, its numbers at {number.x + number.width}')
    if number.x + number.width > table.x + table.width:
        faults.append(f'{name}: the numbers go to {number.x + number.width}, '
                      f'the list to {table.x + table.width}')


def dialog(bench, name, title, key, *names):
    bench.key(key)
    bench.x_window(title)
    check(bench, name, title, *names)
    return title


def close(bench, title):
    bench.key('Escape')
    bench.closed(title)


CHIPPED = 'Ember Lantern, chipped'
with Workbench(LANGUAGE=language, NW_LOCALE_DIR=catalogues) as bench:
    main = _('Notchwright')
    bench.says(f'^{_("Your designs")}$')
    check(bench, 'start', main, 'Menu')
    title = dialog(bench, 'new', _('New Design'), 'ctrl+n', 'Cancel', 'Create')
    bench.choose_last(bench.find(role='combo box', within=bench.find(title, 'frame')))
    bench.find(_('Planes that bound the shape'), 'text')
    check(bench, 'planes', title, 'Cancel', 'Create')
    close(bench, title)
    bench.click(bench.find(CHIPPED, 'table cell'))
    bench.find(_('Undo'), 'push button')
    check(bench, 'sketch', main, 'New piece', 'Brush', 'Turn', 'Select', *HEAD, *VIEW)
    bench.key('F5')
    cook = bench.find(_('cook'), 'label')
    bench.find(_('Complete'), 'push button')
    check(bench, 'list', main, 'Complete', 'Piece that comes out first', *HEAD, *VIEW)
    check_list(bench, 'list')
    bench.click(cook)
    bench.find(_('Slides'), 'panel')
    check(bench, 'assembly', main, 'Complete', 'Brush', *HEAD, *VIEW, *STRIP)
    bench.key('ctrl+k')
    bench.find(_('Proposal %u') % 1, 'list item')
    check(bench, 'block', main, *HEAD, *VIEW)
    bench.key('Escape')
    bench.gone(_('Proposal %u') % 1, 'list item')
    for name, title, key in (('difficulty', _('Difficulty and Trials of “%s”') % CHIPPED, 'ctrl+d'),
                             ('versions', _('Versions of “%s”') % CHIPPED, 'ctrl+h'),
                             ('envelope', _('Change the Outside Shape'), 'ctrl+e')):
        close(bench, dialog(bench, name, title, key))
    bench.key('F6')
    check(bench, 'next-panel', main)
    bench.key('ctrl+m')
    if bench.look(_('Make'), 'panel'):
        check(bench, 'make', main, 'Back', 'Menu')
        bench.key('Escape')
        bench.find(_('Undo'), 'push button')
    bench.quit()
assert not faults, '; '.join(faults)
