"""No test: takes the pictures that the README shows. build-aux/screenshots runs it."""

import os
import subprocess
import sys
import time

from driver import Workbench, is_on, wait, x

folder = sys.argv[1]


def take(bench, name):
    x('mousemove', 1279, 799)
    time.sleep(1)
    path = os.path.join(folder, f'{name}.png')
    bench.shoot(path)
    subprocess.run(['convert', path, '-strip', '+dither', '-colors', '256', f'PNG8:{path}'],
                   check=True)


with Workbench() as bench:
    bench.find('Tide Chest', 'table cell')
    time.sleep(1)
    take(bench, 'start-page')
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    bench.key('F5')
    bench.find('Complete', 'push button', bench.found)
    bench.click(bench.find('intended', 'label', bench.found))
    for _ in range(6):
        bench.press('One slide on', within=bench.strip)
    take(bench, 'half-apart')
    bench.press('Back to Design', within=bench.found)
    bench.key('alt+2')
    wait(lambda: is_on(bench.find('See-through', 'push button')), 'the view to be see-through')
    take(bench, 'see-through')
    bench.key('ctrl+m')
    page = bench.find('Make', 'panel')
    bench.click(bench.find('Card Nets', 'list item', page))
    bench.says('^Knives: ', page)
    take(bench, 'making')
    bench.quit()
