"""Sixty pieces in a cube of twelve cells have so many places that to set the search up takes long: the
window tells how far that is while it goes on and while it is paused, goes on, and ends at once."""

import os
import time

from dissection import write_design
from driver import Workbench, wait

STAGES = r'^(listing places: piece \d+ of 60|finding symmetries|comparing places: \d+ %|leaving out .*)$'


def stage(bench, status):
    return bench.says(STAGES, status).group(1)


path = os.path.join(os.environ['NW_HOME'], 'sixty.json')
write_design(path, 'Sixty', 12, 60)
with Workbench(path) as bench:
    bench.says('^60 pieces$')
    status = bench.find('NwSearchBar', within=bench.found)
    bench.press('Search', within=status)
    bench.find('Pause', 'push button', status)
    stage(bench, status)
    bench.press('Pause', within=status)
    bench.find('Resume', 'push button', status)
    held = stage(bench, status)
    time.sleep(2)
    assert stage(bench, status) == held, 'it goes on while it is paused'
    bench.press('Resume', within=status)
    bench.find('Pause', 'push button', status)
    wait(lambda: stage(bench, status) != held, f'what comes after {held!r}', 60)
    bench.quit()
