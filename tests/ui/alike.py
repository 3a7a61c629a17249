"""A key and a button that stand for the same do the same: in a search that cannot read what was found
before, with the intended assembly, and while another is laid beside it."""

import os
import sqlite3

from driver import Workbench, is_enabled, wait

STORE = os.path.join(os.environ['XDG_DATA_HOME'], 'notchwright')
BESIDE, ALONE = 'Compare with Intended', 'Stop Comparing'
ADOPT, SKETCH = 'Make Intended', 'Back to Design'
KEYS = {ADOPT: 'ctrl+i', BESIDE: 'ctrl+b', SKETCH: 'ctrl+period'}


def damage():
    """What was found can be read no more: its placements are cut short."""
    name, = (name for name in os.listdir(STORE) if name.endswith('.notch'))
    with sqlite3.connect(os.path.join(STORE, name)) as store:
        assert store.execute("UPDATE assembly SET placements = x'07'").rowcount == 4
    store.close()


def is_found(bench):
    bench.find('Complete', 'push button', bench.found)
    bench.says('^4 assemblies$', bench.found)


def choose(bench, word):
    row = bench.find(word, 'label', bench.found)
    bench.click(row)
    return bench.tells(bench.find('View of the solid'), '^Assembly').string


def button(bench, name):
    return bench.find(name, 'push button', bench.found)


def by_key_or_not_at_all(bench):
    """Where a button is dim its key does nothing."""
    view = bench.find('View of the solid')
    for name, enabled in ((ADOPT, False), (BESIDE, False), (SKETCH, True)):
        choose(bench, 'intended')
        wait(lambda: is_enabled(button(bench, name)) == enabled, f'{name!r} to be {enabled}')
        bench.key(KEYS[name])
        if enabled:
            bench.tells(view, '^Sketch')
        bench.find(BESIDE, 'push button', bench.found)
        assert not is_enabled(bench.find('Undo', 'push button')), name
    choose(bench, 'cook')
    for lay, take in ((bench.press, bench.key), (bench.key, bench.press)):
        for do, name, other in ((lay, BESIDE, ALONE), (take, ALONE, BESIDE)):
            if do == bench.key:
                bench.key(KEYS[BESIDE])
            else:
                bench.press(name, within=bench.found)
            bench.find(other, 'push button', bench.found)
    bench.press(SKETCH, within=bench.found)
    for name in KEYS:
        assert not is_enabled(button(bench, name)), name


with Workbench() as bench:
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    bench.key('F5')
    is_found(bench)
    by_key_or_not_at_all(bench)
    bench.quit()

for again in (lambda bench: bench.key('F5'),
              lambda bench: bench.press('Search Again', within=bench.found)):
    damage()
    with Workbench() as bench:
        bench.says('^6 pieces$')
        bench.key('F5')
        bench.find('Search Again', 'push button', bench.found)
        again(bench)
        is_found(bench)
        bench.quit()
