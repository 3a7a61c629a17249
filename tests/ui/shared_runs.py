"""The command and the window share a store: what one has searched to the end the other shows, both
ways, although the file draws each piece in a frame of its own."""

import os
import re
import subprocess
import sys

from driver import Workbench, name_of, wait, walk

NOTCH = sys.argv[1]
DESIGN = os.path.join(os.environ['NW_SOURCE'], 'data/designs/ember-lantern.json')
CHIPPED = os.path.join(os.environ['NW_SOURCE'], 'data/designs/ember-lantern-chipped.json')


def notch(*words):
    done = subprocess.run([NOTCH, *words], capture_output=True, text=True)
    assert done.returncode == 0, (words, done.returncode, done.stdout, done.stderr)
    return done.stdout


def shows_all(bench):
    """A complete list with its rows, under a heading that says the same."""
    bench.find('Complete', 'push button', bench.found)
    bench.says('^4 assemblies$', bench.found)
    bench.says('^The intended assembly is the only answer', bench.found)
    bench.find('intended', 'label', bench.found)
    assert len(bench.look_all('unreachable', 'label', bench.found)) == 3


def from_command_to_window():
    notch('library', 'add', DESIGN)
    assert 'The intended assembly is the only answer' in notch('fit', 'Ember Lantern')
    with Workbench() as bench:
        bench.click(bench.find('Ember Lantern', 'table cell'))
        shows_all(bench)
        bench.quit()
    assert 'From the store' in notch('fit', 'Ember Lantern')
    notch('library', 'remove', 'Ember Lantern')


def from_window_to_command():
    with Workbench(DESIGN) as bench:
        bench.says('^6 pieces$')
        bench.key('F5')
        shows_all(bench)
        told = notch('show', 'Ember Lantern', '1')  # while the window has it open
        assert re.search(r'^ +1  intended ', told), told
        bench.quit()
    assert 'From the store' in notch('fit', 'Ember Lantern')
    again = notch('show', 'Ember Lantern', '1')
    assert again == told, 'it shows another one'


def numbers(bench):
    """What the rows of the list are, by their numbers."""
    rows = {}
    table = bench.find('GtkColumnListView', 'list', bench.found)
    for row in bench.look_all('.*', 'table row', table):
        words = [name_of(cell) for cell in walk(row) if cell.get_role_name() == 'label']
        if words:  # of the rows that the view keeps ready, some are empty
            rows[words[-1]] = words[0]
    return rows


def numbers_stay():
    """The number of an assembly is the same after undo, in the title of the question how to block
    it, and for the command."""
    wanted = {'1': 'intended', '2': 'cook', '3': 'unreachable', '4': 'unreachable'}
    with Workbench(CHIPPED) as bench:
        bench.find('Ember Lantern, chipped', 'label')
        bench.key('F5')
        bench.find('Complete', 'push button', bench.found)
        wait(lambda: numbers(bench) == wanted, f'the numbers {wanted}')
        bench.click(bench.find('cook', 'label', bench.found))
        bench.press('Make Intended', within=bench.found)
        bench.find('Complete', 'push button', bench.found)
        wait(lambda: numbers(bench) == wanted, f'the numbers {wanted}, of the other one')
        bench.press('Undo')
        wait(lambda: numbers(bench) == wanted, f'the numbers {wanted} again')
        bench.click(bench.find('cook', 'label', bench.found))
        bench.press('Block This Cook…', within=bench.found)
        bench.says('^Block Cook 2$', bench.find('Ways to block a cook', 'panel'))
        bench.quit()
    assert re.search(r'^ +2  cook ', notch('show', 'Ember Lantern, chipped', '2'))


from_command_to_window()
from_window_to_command()
numbers_stay()
