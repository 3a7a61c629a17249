"""The window speaks German where German is asked for. The catalogue is that of the build."""

import os
import sys

from driver import Workbench

catalogues = sys.argv[1]
if not os.path.exists(f'{catalogues}/de/LC_MESSAGES/notchwright.mo'):
    print('Skipped: the translations are not built.')
    sys.exit(77)
with Workbench(LANGUAGE='de', NW_LOCALE_DIR=catalogues) as bench:
    bench.says('^Ihre Entwürfe$')
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 Stücke$')
    bench.press('Suchen')
    bench.find('Vollständig', 'push button')
    bench.says('^4 Fügungen$')
    bench.find('unerreichbar', 'label')
    bench.shoot(os.path.join(os.environ['NW_SHOTS'], 'german.png'))
    bench.quit()
