"""The window is closed in the middle of a long search: the program ends at once, and the search
goes on where it was.

The twelve pentominoes in the box of 3 by 4 by 5 (3,940 assemblies: C. J. Bouwkamp, Packing a
rectangular box with the twelve solid pentominoes, J. Combinatorial Theory 7, 1969)."""

import os
import time

from driver import Workbench, wait
from fives import write_design


def count_found(bench, status):
    return int(bench.says(r'^(\d+) assembl(?:y|ies)$', status).group(1))


def search_until(bench, press, more_than):
    """Searches until so many assemblies are found, then closes the window at once."""
    status = bench.find('NwSearchBar', within=bench.found)  # the long list is not looked through
    close = bench.find('Close', 'push button')
    if more_than:
        bench.says('so far$', status)
        more_than = count_found(bench, status)
        assert more_than > 0, 'what was found is lost'
    bench.press(press, within=status)
    wait(lambda: count_found(bench, status) > more_than, 'more of them', 60)
    assert bench.look('Pause', 'push button', status), 'it should still be searching'
    begin = time.monotonic()
    bench.click(close)
    bench.ended()
    print(f'{more_than}: closed in {time.monotonic() - begin:.2f} s')


path = os.path.join(os.environ['NW_HOME'], 'fives.json')
write_design(path, (3, 4, 5))
with Workbench(path) as bench:
    bench.says('^12 pieces$')
    search_until(bench, 'Search', 0)
with Workbench() as bench:
    bench.find('Resume', 'push button', bench.found)
    search_until(bench, 'Resume', 1)
