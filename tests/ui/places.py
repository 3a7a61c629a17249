"""The window stands where it was left: its size, whether it is maximized, and its dividers; and
whatever was kept, it is not larger than the screen, and the view has a third of the bench."""

import os

import gi

gi.require_version('Atspi', '2.0')
from gi.repository import Atspi  # noqa: E402

from driver import Workbench, wait, x  # noqa: E402

SCREEN = tuple(map(int, os.environ['NW_SCREEN'].split('x')))
KEPT = os.path.join(os.environ['XDG_CONFIG_HOME'], 'glib-2.0', 'settings', 'keyfile')
CHIPPED = 'Ember Lantern, chipped'


def size(bench):
    told = x('getwindowgeometry', '--shell', bench.x_window('Notchwright')).splitlines()
    place = dict(line.split('=') for line in told)
    return int(place['WIDTH']), int(place['HEIGHT'])


def box_of(thing):
    box = Atspi.Component.get_extents(thing, Atspi.CoordType.WINDOW)
    return box.x, box.y, box.width, box.height


def has_size(bench, wanted):
    wait(lambda: size(bench) == wanted, f'the window to be {wanted}, not {size(bench)}')


def press_button_of_title(bench, name):
    bench.press(name)
    bench.moved()


def drag_divider(start, end):
    x('mousemove', *start, 'mousedown', 1)
    for i in range(1, 9):
        x('mousemove', *(int(a + (b - a) * i / 8) for a, b in zip(start, end)))
    x('mouseup', 1)


def has_a_third(bench):
    """Of the bench, in both directions; the head of the window is not part of it."""
    view = bench.find('View of the solid')
    across, high = size(bench)

    def enough():
        left, top, width, height = box_of(view)
        return width >= across / 3 - 4 and height >= (high - 60) / 3 - 4
    wait(enough, f'the view to have a third of {across}×{high}, not {box_of(view)}')


with Workbench() as bench:
    has_size(bench, (1280, 800))
    press_button_of_title(bench, 'Maximize')
    has_size(bench, SCREEN)
    bench.quit()
with Workbench() as bench:
    has_size(bench, SCREEN)
    press_button_of_title(bench, 'Maximize')
    has_size(bench, (1280, 800))
    bench.click(bench.find(CHIPPED, 'table cell'))
    bench.says('^6 pieces$')
    left, top, width, height = box_of(bench.find('View of the solid'))
    corner = bench._place(bench.find('View of the solid'))[:2]
    drag_divider((corner[0] + width + 2, corner[1] + height // 2), (corner[0] + 5, corner[1] + 80))
    has_a_third(bench)
    drag_divider((corner[0] + 100, corner[1] + height + 2), (corner[0] + 100, corner[1] + 2))
    has_a_third(bench)
    bench.quit()
with open(KEPT, encoding='utf-8') as file:
    kept = dict(line.split('=', 1) for line in file.read().splitlines() if '=' in line)
kept.update({'width': '5000', 'height': '4000', 'left-pane': '3000', 'right-pane': '30',
             'middle-pane': '20', 'maximized': 'false'})
with open(KEPT, 'w', encoding='utf-8') as file:
    file.write('[net/notchwright/Notchwright]\n')
    file.writelines(f'{key}={value}\n' for key, value in kept.items())
with Workbench() as bench:
    bench.says('^6 pieces$')
    wait(lambda: size(bench) <= SCREEN and size(bench)[1] <= SCREEN[1], 'a window that fits')
    has_a_third(bench)
    bench.quit()
