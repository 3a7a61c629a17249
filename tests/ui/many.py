"""A search with 181,440 assemblies is opened again: what is being read is said, rows are there before
all is read, the count is never wrong, and the largest number is shown whole.

Nine cubes told apart fill a row of nine cells in 9! ways, of which a half turn makes two of each."""

import json
import os
import subprocess
import sys

from driver import EDGE, Workbench, name_of, wait, walk

NOTCH = sys.argv[1]
NAME, PIECES, COUNT = 'Nine in a Row', 9, 181440
DIGIT = 8  # pixels of one, in the font of these scenarios


def notch(*words):
    subprocess.run([NOTCH, *words], check=True, stdout=subprocess.DEVNULL)


def write_design(path):
    cubes = [[i, 0, 0, 31] for i in range(PIECES)]
    with open(path, 'w', encoding='utf-8') as file:
        json.dump({'format': 'notchwright design', 'version': 1, 'name': NAME,
                   'envelope': {'cells': cubes},
                   'pieces': [{'name': f'P{i + 1}', 'cells': [cube]}
                              for i, cube in enumerate(cubes)]}, file)


def words(status):
    return [name_of(thing) for thing in walk(status)
            if thing.get_role_name() in ('label', 'push button')]


def watch_the_reading(status, table):
    """From the first moment on, until all is there."""
    told, most = [], 0

    def is_read():
        nonlocal most
        now = words(status)
        if told[-1:] != [now]:
            told.append(now)
        if told[-1][0] == 'Complete' and f'{COUNT} assemblies' in told[-1]:
            return True
        most = max(most, table.get_child_count())
        return False
    wait(is_read, 'all to be read', 120)
    reading = [said for said in told if said[0] == 'Reading…']
    assert reading and any(f'Reading {COUNT} assemblies…' in said for said in reading), told
    assert all(said[0] in ('Reading…', 'Complete') for said in told), told
    assert most > 100, f'before all is read, {most} rows are there'


def shows_number_whole(bench, table):
    """By rising numbers, the last row."""
    bench.click(bench.find('No.', 'label', bench.found))
    bench.click(bench.find('as drawn|comes apart', 'label', table))
    bench.key('End')
    number = bench.extents(bench.find(str(COUNT), 'label', table, 60))
    panel = bench.extents(bench.found)
    assert number.width >= DIGIT * len(str(COUNT)), f'{COUNT} has only {number.width} pixels'
    assert number.x + number.width <= panel.x + panel.width + EDGE, 'it is beyond the panel'


path = os.path.join(os.environ['NW_HOME'], 'row.json')
write_design(path)
notch('library', 'add', path)
notch('fit', '--json', NAME)
with Workbench() as bench:
    # Another design first, so that the panel is known before anything is read into it.
    bench.click(bench.find('Ember Lantern', 'table cell'))
    bench.says('^6 pieces$')
    bench.key('F5')
    bench.find('Complete', 'push button', bench.found)
    status = bench.find('NwSearchBar', within=bench.found)
    table = bench.find('GtkColumnListView', 'list', bench.found)
    bench.press('All designs')
    bench.click(bench.find(NAME, 'table cell'))
    watch_the_reading(status, table)
    shows_number_whole(bench, table)
    bench.quit()
