"""A store that can only be read: the window opens, says that nothing will be saved, and alters
nothing."""

import hashlib
import os
import shutil

from driver import Workbench, is_enabled

folder = os.path.join(os.environ['NW_HOME'], 'shelf')
store = os.path.join(folder, 'designs.notch')


def state_of_folder():
    with open(store, 'rb') as file:
        return sorted(os.listdir(folder)), hashlib.sha256(file.read()).hexdigest()


os.mkdir(folder)
with Workbench('--store', store) as bench:
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    bench.press('Search', within=bench.found)
    bench.find('Complete', 'push button', bench.found)
    bench.quit()

os.chmod(store, 0o444)
os.chmod(folder, 0o555)
before = state_of_folder()
with Workbench('--store', store) as bench:
    bench.says('^The library is read-only; changes are not saved')
    bench.find('cook', 'label', bench.found)  # what was found before is shown
    board = bench.find('Layers', 'image', bench.painting)
    bench.click(bench.find('Piece B', 'list item', bench.pieces), 0.3, 0.6)
    bench.click(board, *bench.seek(board, board, 'piece A'))
    bench.says('is read-only; make the file and its folder writable')
    # The list is that of the design as it was, and says so; undo brings back what the store has.
    bench.find('Search Again', 'push button', bench.found)
    bench.press('Undo')
    bench.find('cook', 'label', bench.found)
    bench.find('Complete', 'push button', bench.found)
    bench.key('ctrl+d')
    bench.x_window('Difficulty and Trials of “Ember Lantern, chipped”')
    dialog = bench.find('Difficulty and Trials of “Ember Lantern, chipped”', 'frame')
    bench.says(r' ± ', dialog)  # what was found before is measured
    bench.click(bench.find('Trials', 'page tab', dialog))
    bench.says('^The store can only be read: trials cannot be added, changed or removed', dialog)
    assert not is_enabled(bench.find('Add a Trial…', 'push button', dialog))
    bench.key('Escape')
    bench.closed('Difficulty and Trials of “Ember Lantern, chipped”')
    bench.quit()
assert state_of_folder() == before, 'the store was altered'
os.chmod(folder, 0o755)
shutil.rmtree(folder)
