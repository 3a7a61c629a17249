"""The question how to block a cook is paused, the program ends, and starts again: asked the same,
it shows what it had found and goes on from there.

The twelve pentominoes in the box of 2 by 5 by 6 (264 assemblies and their mirror images: C. J.
Bouwkamp, Packing a rectangular box with the twelve solid pentominoes, J. Combinatorial Theory 7,
1969) have more cooks than anybody wants, and nearly each change needs a search of its own."""

import os
import sys

from driver import Workbench
from fives import write_design

SHOTS = sys.argv[1] if len(sys.argv) > 1 else None


def shoot(bench, name):
    if SHOTS:
        bench.shoot(os.path.join(SHOTS, name + '.png'))


def ask(bench):
    bench.click(bench.find('cook', 'label', bench.found))
    bench.press('Block This Cook…', within=bench.found)
    return bench.find('Ways to block a cook', 'panel')


def count_proposals(bench, panel):
    return len(bench.look_all(r'Proposal \d+', 'list item', panel))


def settled(bench, panel):
    words = bench.says(r'^Checking single changes: (\d+) of (\d+) done$', panel, 60)
    return int(words.group(1))


def first_session(path):
    """Until some are found and one is being checked; paused, and the window closed."""
    with Workbench(path) as bench:
        bench.says('^12 pieces$')
        bench.key('F5')
        bench.find('Complete', 'push button', bench.found, 60)
        bench.find('1', 'label', bench.found)  # with their numbers the rows take their places
        bench.click(bench.find('comes apart', 'label', bench.found))
        bench.press('Make Intended', within=bench.found)
        bench.says('^527 cooks$', bench.found)
        panel = ask(bench)
        bench.find('Proposal 3', 'list item', panel, 60)
        front = bench.find('The change that is being checked', 'list item', panel, 60)
        bench.says('^(Add|Remove|Move) the ', front)
        assert not bench.look(role='push button', within=front), 'it is not proved, yet applicable'
        bench.press('Pause', within=panel)
        bench.says(r'^Paused after \d+ proposals', panel)
        bench.find('Resume', 'push button', panel)
        before = count_proposals(bench, panel)
        shoot(bench, 'paused')
        bench.quit()
    return before


def second_session(before):
    """All that was found is there as soon as the same is asked, and it goes on; then stopped."""
    with Workbench() as bench:
        bench.find('Complete', 'push button', bench.found)
        panel = ask(bench)
        bench.find(f'Proposal {before}', 'list item', panel)
        assert settled(bench, panel) >= before, 'it began anew'
        shoot(bench, 'going-on')
        bench.find(f'Proposal {before + 1}', 'list item', panel, 60)
        bench.press('Stop', within=panel)
        bench.says('^Stopped', panel)
        after = count_proposals(bench, panel)
        bench.press('Resume', within=panel)
        bench.find(f'Proposal {after + 1}', 'list item', panel, 60)
        left = bench.says(r'^Proved by a full search: (\d+) assembl', panel).group(1)
        bench.press('Apply proposal 1', within=panel)
        bench.gone('Pause|Search Again|Resume', 'push button', bench.found)
        bench.says(f'^{left} assembl(y|ies)$', bench.found)
        bench.quit()
    return after


path = os.path.join(os.environ['NW_HOME'], 'fives.json')
write_design(path, (2, 5, 6))
before = first_session(path)
after = second_session(before)
print(f'{before} proposals, then {after}')
