"""The view under a real pointer: turning, shifting, zooming, looking at a piece, and going back,
told by the view's own words and by the colours on the screen."""

import json
import math
import os
import re
import time

from driver import Workbench, is_enabled, is_on, is_solid, wait, words_of, x

RADIANS_A_PIXEL = 0.008  # src/view/camera.c
home = os.environ['NW_HOME']

# Three cubes side by side, along x.
row = {
    'format': 'notchwright design', 'version': 1, 'name': 'Three in a Row',
    'envelope': {'cells': [[i, 0, 0, 31] for i in range(3)]},
    'pieces': [{'name': name, 'colour': colour, 'cells': [[i, 0, 0, 31]]} for i, (name, colour)
               in enumerate((('A', '#e69f00'), ('B', '#009e73'), ('C', '#0072b2')))],
}


def angles(view):
    return [float(number) for number in re.search(r'turned ([-0-9.]+)°, tilted ([-0-9.]+)°',
                                                  words_of(view)).groups()]


def size(view):
    """Of what is shown, in hundredths of the size that fits."""
    told = re.search(r'([0-9.]+) % of the size that fits', words_of(view))
    return float(told.group(1)) if told else 100


def degrees_between(a, b):
    return (b - a + 180) % 360 - 180


def box_of(pixels, fits=is_solid):
    return pixels.box(fits)


def middle_of(box):
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def turn(bench, view, start, button, holding=None):
    """Drags and checks that the solid turns as far as the hand goes, about where it is, and that it
    rests when the hand does."""
    before, shown = angles(view), bench.picture(view)
    bench.drag_to(start, (start[0] + 90, start[1] - 30), button, holding)
    wait(lambda: angles(view) != before, f'button {button} to turn the view')
    time.sleep(0.3)
    after = angles(view)
    assert abs(degrees_between(after[0], before[0]) - math.degrees(90 * RADIANS_A_PIXEL)) < 3, (
        before, after)
    assert abs(before[1] - after[1] - math.degrees(30 * RADIANS_A_PIXEL)) < 3, (before, after)
    turned = bench.picture(view)
    assert turned.bytes != shown.bytes
    old, new = box_of(shown), box_of(turned)
    for k in (0, 1):
        assert abs(middle_of(old)[k] - middle_of(new)[k]) < 0.2 * (old[k + 2] - old[k]), (old, new)
    time.sleep(0.3)
    assert angles(view) == after, 'it goes on turning'
    bench.key('ctrl+0')
    wait(lambda: angles(view) == before, 'the view to be reset')


def shift(bench, view, start, button, holding=None):
    """Drags and checks that the solid comes along with the hand."""
    before, old = angles(view), box_of(bench.picture(view))
    bench.drag_to(start, (start[0] + 60, start[1] + 24), button, holding)
    new = box_of(bench.picture(view))
    for a, b, far in zip(old, new, (60, 24, 60, 24)):
        assert abs(b - a - far) <= 6, (old, new)
    assert angles(view) == before
    bench.key('ctrl+0')
    wait(lambda: abs(box_of(bench.picture(view))[0] - old[0]) <= 1, 'the view to be reset')


def turn_about_what_is_looked_at(bench, view):
    """Shifted so that its left tip is in the middle, it turns about that."""
    before = bench.picture(view)
    left = min(before.places(is_solid))
    middle = middle_of((before.left, before.top, before.left + before.width,
                        before.top + before.height))
    bench.drag_to(left, (left[0] + round(middle[0] - left[0]) - 8, left[1]), 2)
    tip = min(bench.picture(view).places(is_solid))
    corner = bench.spot(view, 0.04, 0.95)
    bench.drag_to(corner, (corner[0], corner[1] - 24), 3)
    turned = min(bench.picture(view).places(is_solid))
    assert math.dist(tip, turned) < 40, (tip, turned)
    bench.key('ctrl+0')
    bench.tells(view, '°$')


def zoom_to_the_pointer(bench, view):
    """What is under the pointer, just within a tip, stays there while all grows about it."""
    before = bench.picture(view)
    tip = min(before.places(is_solid))
    within = tip[0] + 5, tip[1]
    for steps in (6, -9):
        old = size(view)
        bench.wheel(within, steps)
        bench.tells(view, 'of the size that fits$')
        now = min(bench.picture(view).places(is_solid))
        grown = size(view) / old
        wanted = within[0] + grown * (tip[0] - within[0]), tip[1]
        # In either picture the tip is seen some pixels off where it is.
        assert math.dist(wanted, now) <= 4 * max(grown, 1 / grown), (wanted, now, grown)
        assert (grown > 1.2) == (steps > 0), (grown, steps)
        tip = now
    bench.key('ctrl+0')
    bench.tells(view, '°$')
    assert abs(box_of(bench.picture(view))[0] - box_of(before)[0]) <= 1


def look_at_a_piece(bench, view):
    """The last of three cubes comes to the middle, as large as it was, and nothing is painted."""
    def is_c(red, green, blue):
        return blue > red + 60 and blue > green + 20
    bench.key('F6', '4')
    bench.tells(view, 'turned 0°')
    whole = middle_of(box_of(bench.picture(view)))
    old = box_of(bench.picture(view), is_c)
    assert old[0] > whole[0], (old, whole)
    bench.double_click_at((old[0] + 15, old[1] + 15))
    bench.tells(view, 'of the size that fits$')
    new = box_of(bench.picture(view), is_c)
    assert abs(middle_of(new)[0] - whole[0]) <= 3 and abs(middle_of(new)[1] - whole[1]) <= 3, new
    assert abs((new[2] - new[0]) / (old[2] - old[0]) - 1) < 0.15, (old, new)
    assert not is_enabled(bench.find('Undo', 'push button'))
    bench.key('Home')
    bench.tells(view, 'turned 35°, tilted 25°$')


def undo_is(bench, enabled, what):
    button = bench.find('Undo', 'push button')
    wait(lambda: is_enabled(button) == enabled, what)


def look_or_paint(bench, view):
    """A design with pieces is opened to be looked at: the hand that drags on it turns it, and moves
    the layers. It paints when the maker says so, or chooses a piece, and then no more."""
    board = bench.find('Layers', 'image', bench.painting)
    look = bench.find('Turn', 'push button', bench.painting)
    give = bench.find('Paint', 'push button', bench.painting)
    c = bench.find('Piece C', 'list item', bench.pieces)
    assert is_on(look)
    on_a = bench.seek(board, board, 'piece A')
    for holding in (None, 'shift'):
        turn(bench, view, bench.spot(view), 1, holding)
        bench.click(view, holding=holding)
        bench.click(board, *on_a, holding=holding)
    bench.click(board, *on_a, button=3)
    bench.drag(board, on_a, (on_a[0] + 0.1, on_a[1] + 0.1))
    bench.tells(board, 'part|corner|core')
    undo_is(bench, False, 'nothing to be painted')

    bench.click(c, 0.3, 0.6)
    wait(lambda: is_on(give), 'the brush of piece C')
    bench.key('ctrl+l')
    wait(lambda: is_on(look), 'the key to look')
    bench.click(c, 0.3, 0.6)  # the one that is chosen already
    wait(lambda: is_on(give), 'the brush of piece C again')
    on_a = bench.seek(board, board, 'piece A')
    bench.click(board, *on_a)
    bench.tells(board, 'piece C')
    bench.press('Undo')
    undo_is(bench, False, 'it to be undone')
    bench.press('Turn', 'push button', bench.painting)
    turn(bench, view, bench.spot(view), 1)
    bench.press('Erase', 'push button', bench.painting)
    bench.click(view)
    undo_is(bench, True, 'a part to be taken')
    bench.press('Undo')
    bench.key('ctrl+l')
    wait(lambda: is_on(look), 'the key to look')
    undo_is(bench, False, 'it to be undone')


def reset_by_the_menu(bench, view):
    bench.drag_to(bench.spot(view, 0.05, 0.9), bench.spot(view, 0.3, 0.7))
    assert angles(view) != [35, 25]
    bench.unfold(bench.find('View', 'push button'))
    bench.key('Home', 'Return')
    bench.tells(view, 'turned 35°, tilted 25°$')


def open_again(bench):
    bench.says('^6 pieces$')
    view = bench.find('View of the solid')
    bench.tells(view, 'turned 35°, tilted 25°$')
    return view


def wheel_at_a_pointer_at_rest(bench):
    """The pointer has clicked a card and not moved since: it is right of the solid, or left, and
    what is drawn goes to the other side as it grows."""
    card = bench.find('Ember Lantern', 'table cell')
    place = bench.spot(card, 0.5, 0.3)
    bench.click(card, 0.5, 0.3)
    bench.says('^6 pieces$')
    view = bench.find('View of the solid')
    old = middle_of(box_of(bench.picture(view, away=False)))
    bench.wheel(place, 4)
    bench.tells(view, 'of the size that fits$')
    new = middle_of(box_of(bench.picture(view, away=False)))
    aside = place[0] - old[0]
    assert abs(aside) > 20 and (new[0] - old[0]) / aside < -0.1, (place, old, new)


with Workbench() as bench:
    wheel_at_a_pointer_at_rest(bench)
    bench.quit()

with Workbench() as bench:
    view = open_again(bench)
    turn(bench, view, bench.spot(view, 0.05, 0.9), 1)
    turn(bench, view, bench.spot(view), 3)
    look_or_paint(bench, view)
    shift(bench, view, bench.spot(view), 2)
    shift(bench, view, bench.spot(view), 3, 'shift')
    turn_about_what_is_looked_at(bench, view)
    zoom_to_the_pointer(bench, view)
    reset_by_the_menu(bench, view)
    assert not is_enabled(bench.find('Undo', 'push button')), 'looking is no edit'

    bench.key('F5')
    bench.find('Complete', 'push button', bench.found)
    bench.click(bench.find('intended', 'label', bench.found))
    bench.tells(view, '^Assembly 1')
    turn(bench, view, bench.spot(view), 1)
    bench.quit()

path = os.path.join(home, 'row.json')
with open(path, 'w', encoding='utf-8') as file:
    json.dump(row, file)
with Workbench(path) as bench:
    bench.says('^3 pieces$')
    look_at_a_piece(bench, bench.find('View of the solid'))
    bench.quit()
