"""A cook is blocked: the proposals, looking at one, applying the first, undo, redo, and the same
after the program was ended and started again. And what one part does, asked by a key.

Ember Lantern, chipped is Ember Lantern without one corner, which a search tells apart by one cook
(data/designs/README.md); with a change that kills it nothing but the intended assembly opens."""

import os
import re
import sys

from driver import Workbench, is_enabled, wait, words_of

SHOTS = sys.argv[1] if len(sys.argv) > 1 else None


def shoot(bench, name):
    if SHOTS:
        bench.shoot(os.path.join(SHOTS, name + '.png'))


def search(bench):
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    bench.key('F5')
    has_the_cook(bench)


def has_the_cook(bench):
    bench.find('Complete', 'push button', bench.found)
    bench.says('^4 assemblies$', bench.found)
    bench.says('^1 cook$', bench.found)
    bench.find('cook', 'label', bench.found)


def has_no_cook(bench):
    bench.find('Complete', 'push button', bench.found, 60)
    bench.says('^4 assemblies$', bench.found)
    bench.says('^0 cooks$', bench.found)
    bench.says('^3 unreachable$', bench.found)
    bench.says('^The intended assembly is the only answer', bench.found)
    bench.find('intended', 'label', bench.found)
    wait(lambda: len(bench.look_all('unreachable', 'label', bench.found)) == 3, 'three of them')
    bench.gone('cook', 'label', bench.found)


def ask(bench):
    """By the button; only a cook has it."""
    block = bench.find('Block This Cook…', 'push button', bench.found)
    assert not is_enabled(block), 'nothing is chosen yet'
    bench.click(bench.find('unreachable', 'label', bench.found))
    bench.says('pieces? (is|are) in another place than intended', bench.found)
    assert not is_enabled(block), 'an unreachable one needs no blocking'
    bench.click(bench.find('cook', 'label', bench.found))
    bench.press('Block This Cook…', within=bench.found)
    return bench.find('Ways to block a cook', 'panel')


def look_at_proposals(bench, panel, view):
    bench.says(r'^Block Cook \d', panel)
    first = bench.find('Proposal 1', 'list item', panel, 60)
    bench.says(r'^(Add|Remove|Move) the ', first)
    bench.says(r'^No longer fits|its way out is blocked', first)
    bench.says('^No cook left$', first)
    bench.says(r'^Level 4 → \d+, slides 10 → \d+$', first)
    bench.says('^Proved', first)
    bench.tells(view, '^Sketch with a proposal highlighted, beside the cook')
    bench.says(r'^Complete: \d+ proposals?\. Nothing else among \d+ single changes', panel, 120)
    shoot(bench, 'proposals')


def go_back(bench, view):
    """Escape leads back to the list, with the cook still chosen."""
    bench.key('Escape')
    bench.tells(view, r'^Assembly \d, slide 0\.00 of 9')
    bench.key('ctrl+k')
    panel = bench.find('Ways to block a cook', 'panel')
    bench.find('Proposal 1', 'list item', panel, 60)
    return panel


def apply(bench, panel, view):
    """The list of the new version is what the proof found: no search runs for it."""
    bench.press('Apply proposal 1', within=panel)
    bench.tells(view, '^Sketch;')
    bench.gone('Pause|Search Again|Resume', 'push button', bench.found)
    has_no_cook(bench)
    shoot(bench, 'blocked')
    bench.click(bench.find('intended', 'label', bench.found))
    bench.tells(view, r'^Assembly \d, slide 0\.00 of \d+')


def make_intended(bench):
    """Other words for the same assemblies, at once; and back."""
    bench.click(bench.find('cook', 'label', bench.found))
    bench.press('Make Intended', within=bench.found)
    bench.gone('Search Again', 'push button', bench.found)
    has_the_cook(bench)
    bench.says('^2 unreachable$', bench.found)
    bench.find('intended', 'label', bench.found)
    bench.key('ctrl+z')
    has_the_cook(bench)


def seek_part(bench, board, pattern):
    """Points at every few pixels of the board until it tells of that part."""
    for down in range(12, 60):
        for right in range(18, 42):
            bench.point_at(board, right / 100, down / 100)
            if re.search(pattern, words_of(board)):
                return
    raise AssertionError(f'no part of the board is {pattern!r}')


def explain(bench):
    """The corner that cures the cook is a lock; the other cooks stay away without it."""
    board = bench.find('Layers', 'image', bench.painting)
    seek_part(bench, board, 'z = 1, cell 1,3, upper corner south-east, piece D')
    bench.key('ctrl+j')
    bench.x_window('What This Part Does')
    bench.says('This part is a lock: without it, 1 assembly that is now unreachable would come apart',
               seconds=60)
    bench.says('The intended assembly would keep its level of 4')
    shoot(bench, 'explained')
    bench.key('Escape')
    bench.closed('What This Part Does')


with Workbench() as bench:
    search(bench)
    view = bench.find('View of the solid')
    panel = ask(bench)
    look_at_proposals(bench, panel, view)
    panel = go_back(bench, view)
    apply(bench, panel, view)
    bench.press('Undo')
    has_the_cook(bench)
    make_intended(bench)
    panel = ask(bench)
    bench.find('Proposal 1', 'list item', panel, 60)
    apply(bench, panel, view)
    bench.press('Undo')
    has_the_cook(bench)
    bench.press('Redo')
    has_no_cook(bench)
    explain(bench)
    bench.quit()
with Workbench() as bench:
    has_no_cook(bench)
    bench.key('ctrl+z')
    has_the_cook(bench)
    bench.key('ctrl+shift+z')
    has_no_cook(bench)
    bench.quit()
