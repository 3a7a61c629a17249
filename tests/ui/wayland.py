"""The window under Wayland, where GTK draws with EGL: the solid is there, pointer and keys reach it, a
picture of it can be saved, and it ends in peace."""

import os
import re

from driver import Pixels, is_enabled, is_on, is_solid, wait, words_of
from wayland_driver import WaylandBench

design = os.path.join(os.environ['NW_SOURCE'], 'data', 'designs', 'ember-lantern-chipped.json')
saved = os.path.join(os.environ['NW_HOME'], 'saved.png')


def angle(view):
    return float(re.search(r'turned ([-0-9.]+)°', words_of(view)).group(1))


with WaylandBench(design) as bench:
    bench.says('^6 pieces$')
    view = bench.find('View of the solid')
    bench.tells(view, 'turned 35°, tilted 25°$')
    at_home = bench.picture(view)
    left, top, right, bottom = at_home.box(is_solid)
    assert right - left > 200 and bottom - top > 200, (left, top, right, bottom)
    assert len({at_home.at(place) for place in at_home.places(is_solid)}) > 20, 'one flat colour'

    # 90 pixels at 0.008 radians each: 41 degrees.
    bench.drag_to(bench.spot(view, 0.06, 0.9), tuple(
        a + b for a, b in zip(bench.spot(view, 0.06, 0.9), (90, 0))))
    wait(lambda: abs(angle(view) + 6) <= 3, 'the drag to turn the view')
    assert bench.picture(view).bytes != at_home.bytes
    bench.key('ctrl+0')
    bench.tells(view, 'turned 35°, tilted 25°$')

    # A drag on the solid turns it too, and still does, with Alt, once the maker paints. Under X the
    # window manager has Alt to itself.
    middle = bench.spot(view)
    undo = bench.find('Undo', 'push button')
    for holding in (None, 'alt'):
        if holding:
            bench.key('ctrl+l')
            wait(lambda: is_on(bench.find('Paint', 'push button', bench.painting)), 'the brush')
        bench.drag_to(middle, (middle[0] + 90, middle[1]), holding=holding)
        wait(lambda: abs(angle(view) + 6) <= 3, f'the drag to turn the view, holding {holding}')
        assert not is_enabled(undo), 'turning is no edit'
        bench.key('ctrl+0')
        bench.tells(view, 'turned 35°, tilted 25°$')
    bench.drag_to(middle, (middle[0] + 40, middle[1] + 20))
    wait(lambda: is_enabled(undo), 'the drag to paint')
    assert angle(view) == 35
    bench.key('ctrl+z')
    wait(lambda: not is_enabled(undo), 'it to be undone')

    tip = min(bench.picture(view).places(is_solid))
    bench.wheel(tip, 4)
    bench.tells(view, 'of the size that fits$')
    now = min(bench.picture(view).places(is_solid))
    assert max(abs(a - b) for a, b in zip(tip, now)) <= 6, (tip, now)
    bench.key('Home')
    bench.tells(view, 'turned 35°, tilted 25°$')

    bench.key('ctrl+p')
    bench.x_window('Save a picture')
    bench.key('ctrl+a')
    bench.type(saved)
    bench.key('Return')
    wait(lambda: os.path.exists(saved), 'the picture')
    bench.closed('Save a picture')
    _, _, width, height = bench._place(view)
    left, top, right, bottom = Pixels((0, 0, 2 * width, 2 * height), saved).box(is_solid)
    assert left > 20 and top > 20 and right < 2 * width - 20 and bottom < 2 * height - 20
    assert bench.picture(view).bytes == at_home.bytes, 'the view is drawn otherwise since'
    bench.quit()
