"""A design is removed while a window has it open, by the command or by another window: the window
says so, keeps what was done, and saves it again if asked to, with what was found. It asks before it
lets go of the only copy."""

import json
import os
import subprocess
import sys

from driver import Workbench, wait

NOTCH = sys.argv[1]
NAME = 'Ember Lantern'
QUESTION = 'The Only Copy'
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
    bench.says(f'^“{NAME}” was removed from the library')
    bench.says('^Removed from the library; changes are not saved')
    add_piece(bench, before + 1)
    assert notch('library', 'list').startswith('The store is empty')
    bench.press('Keep It')
    bench.says(f'^{before + 1} pieces$')
    assert pieces() == before + 1
    add_piece(bench, before + 2)
    assert pieces() == before + 2, 'it is not saved any more'


def remove(bench):
    notch('library', 'remove', NAME)
    bench.says('^Removed from the library; changes are not saved')


def say(bench, word):
    bench.x_window(QUESTION)
    dialog = bench.find(QUESTION, 'dialog')
    bench.says(f'^Keep “{NAME}”', dialog)
    assert bench.look(word, 'push button', dialog)
    bench.key(f'alt+{word[0].lower()}')


def answer(bench, word):
    """Answers the question, once it is asked."""
    say(bench, word)
    bench.closed(QUESTION)


def keep_what_was_found(bench):
    """A finished search is taken over: the list is as it was, and comes into the store again."""
    bench.key('F5')
    bench.find('Complete', 'push button', bench.found)
    count = bench.says('^([0-9]+ assembl(y|ies))$', bench.found).group(1)
    remove(bench)
    bench.press('Keep It')
    bench.says('^6 pieces$')
    bench.find('Complete', 'push button', bench.found)
    bench.says(f'^{count}$', bench.found)
    wait(lambda: f'searched: {count}' in notch('library', 'list'), 'the list to be in the store')


def ask_first(bench):
    """Nothing that a person can do drops it without a question."""
    remove(bench)
    for drop in (lambda: bench.key('ctrl+q'),
                 lambda: bench.press('Close'),
                 lambda: (bench.key('alt+Home'),
                          bench.click(bench.find('Kite Harbour', 'table cell')))):
        drop()
        answer(bench, 'Cancel')
        assert notch('library', 'list').startswith('The store is empty')
        bench.says('Keep it to save it again')
    bench.click(bench.find('Kite Harbour', 'table cell'))
    answer(bench, 'Keep It')
    bench.says('^4 pieces$')
    assert pieces() == 6


def keep_and_quit(bench):
    bench.key('alt+Home')
    bench.click(bench.find(NAME, 'table cell'))
    bench.says('^6 pieces$')
    remove(bench)
    add_piece(bench, 7)
    bench.key('ctrl+q')
    answer_and_end(bench, 'Keep It')
    assert pieces() == 7


def answer_and_end(bench, word):
    say(bench, word)
    bench.ended()


notch('library', 'add', DESIGN)
with Workbench() as bench:
    bench.click(bench.find(NAME, 'table cell'))
    bench.says('^6 pieces$')
    keep_what_was_found(bench)
    ask_first(bench)
    keep_and_quit(bench)
with Workbench() as bench:
    bench.says('^7 pieces$')
    remove(bench)
    bench.press('Close')
    answer_and_end(bench, 'Discard')
assert NAME not in notch('library', 'list')
notch('library', 'remove', 'Kite Harbour')

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
    bench.says('^Removed from the library; changes are not saved')
    bench.press('Close It')
    bench.says('^Designs$')
    bench.find('New design', 'table cell')
    bench.quit()
