"""The window looks as it did: pictures in the light and in the dark, compared with kept ones.

Fonts and Mesa differ from machine to machine by a pixel here and there, so the pictures are made
small and soft before they are compared, and two figures count: how far they are apart on average,
and how far in the worst of 40 by 25 tiles. `NW_KEEP=1` keeps the new pictures in place of the old.
"""

import os
import subprocess
import sys
import time

from driver import Workbench, is_on, wait, x

theme = sys.argv[1]
kept = os.path.join(os.path.dirname(os.path.abspath(__file__)), 'shots')
MEAN, TILE = 0.03, 0.2  # of the whole range from black to white
faults = []


def difference(measure, size, one, other):
    shrink = ['-filter', 'Box', '-resize', size]
    done = subprocess.run(['convert', '(', one, *shrink, ')', '(', other, *shrink, ')', '-metric',
                           measure, '-compare', '-format', '%[distortion]', 'info:'],
                          check=True, capture_output=True, text=True)
    return float(done.stdout)


def check(bench, name):
    x('mousemove', 1279, 799)
    time.sleep(0.6)  # for the last tooltip to go, and the view to come to rest
    new, old = f'{os.environ["NW_SHOTS"]}/{name}-{theme}.png', f'{kept}/{name}-{theme}.png'
    bench.shoot(new)
    if 'NW_KEEP' in os.environ:
        subprocess.run(['convert', new, '-filter', 'Box', '-resize', '640x400!', '-strip',
                        '+dither', '-colors', '128', f'PNG8:{old}'], check=True)
        return
    mean = difference('RMSE', '160x100!', new, old)
    tile = difference('PAE', '40x25!', new, old)
    print(f'{name}: {mean:.3f} on average, {tile:.3f} in the worst tile')
    if mean > MEAN or tile > TILE:
        faults.append(f'{name} looks otherwise than tests/ui/shots/{name}-{theme}.png')


def difficulty(bench):
    """The measures, and the plot of one trial."""
    title = 'Difficulty and Trials of “Ember Lantern, chipped”'
    bench.key('ctrl+d')
    bench.x_window(title)
    dialog = bench.find(title, 'frame')
    bench.says(' ± ', dialog)
    check(bench, 'difficulty')
    bench.click(bench.find('Trials', 'page tab', dialog))
    bench.press('Add a Trial…', within=dialog)
    bench.x_window('New Trial')
    form = bench.find('New Trial', 'frame')
    bench.replace(bench.find('Minutes', 'spin button', form), '12.5')
    bench.press('Add', within=form)
    bench.closed('New Trial')
    bench.click(bench.find('Plot', 'page tab', dialog))
    bench.tells(bench.find('Times of trials against: Slides in all', 'image', dialog), '^1 dot')
    check(bench, 'plot')
    bench.key('Escape')
    bench.closed(title)


with Workbench() as bench:
    bench.find('Tide Chest', 'table cell')
    time.sleep(0.8)  # the cards are painted one by one
    check(bench, 'start')
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    check(bench, 'sketch')
    bench.key('F5')
    bench.find('Complete', 'push button', bench.found)
    bench.click(bench.find('cook', 'label', bench.found))
    for _ in range(3):
        bench.press('One slide on', within=bench.strip)
    bench.says('^Slide 3 of 9', bench.strip)
    bench.find('Complete', 'push button', bench.found)
    check(bench, 'way-out')
    bench.key('alt+2')
    wait(lambda: is_on(bench.find('See-through', 'push button')), 'the view to be see-through')
    check(bench, 'see-through')
    if bench.look('Make…', 'push button'):
        bench.key('ctrl+m')
        bench.says('^Before You Start$', bench.find('Make', 'panel'))
        check(bench, 'make')
        bench.key('Escape')
    difficulty(bench)
    bench.quit()
assert not faults, '; '.join(faults)
