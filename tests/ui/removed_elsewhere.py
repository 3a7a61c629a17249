"""A design is removed while a window has it open, by the command or by another window: the window
says so, keeps what was done, and saves it again if asked to."""

import json
import os
import subprocess
import sys

from driver import Workbench

NOTCH = sys.argv[1]
NAME = 'Ember Lantern'
DESIGN = os.path.join(os.environ['NW_SOURCE'], 'data/designs/ember-lantern.json')


def notch(*words):
    done = subprocess.run([NOTCH, *words], capture_output=True, text=True)
    assert done.returncode == 0, (words, done.returncode, done.stdout, done.stderr)
    return done.stdout


def pieces():
    return len(json.loads(notch('library', 'export', NAME))['pieces'])


def add_piece(bench, count):
    bench.press('New piece', within=bench.pieces)
    bench.find(f'Piece {"ABCDEFGHI"[count - 1]}', 'list item', bench.pieces)


def keep(bench, before):
    """An edit after the removal is kept too."""
    bench.says(f'^“{NAME}” was removed from the store')
    bench.says('^Removed from the store: nothing is saved')
    add_piece(bench, before + 1)
    assert notch('library', 'list').startswith('The store is empty')
    bench.press('Keep It')
    bench.says(f'^{before + 1} pieces$')
    assert pieces() == before + 1
    add_piece(bench, before + 2)
    assert pieces() == before + 2, 'it is not saved any more'


notch('library', 'add', DESIGN)
with Workbench() as bench:
    bench.click(bench.find(NAME, 'table cell'))
    bench.says('^6 pieces$')
    add_piece(bench, 7)
    assert pieces() == 7
    notch('library', 'remove', NAME)
    keep(bench, 7)
    # And let go, if that is what is wanted.
    notch('library', 'remove', NAME)
    bench.says('^Removed from the store: nothing is saved')
    bench.press('Close It')
    bench.says('^Designs$')
    bench.find('New design', 'table cell')
    bench.quit()
