"""A bundled design with a cook: what the search finds, watching it come apart, and going back."""

import time

from driver import Workbench, is_enabled, name_of, wait, walk


def choose(bench, word, which=0):
    """Clicks a row of the list by its state."""
    rows = wait(lambda: bench.look_all(word, 'label', bench.found),
                f'rows that are {word!r}')
    bench.click(rows[which])


def search(bench):
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    bench.x_window('Ember Lantern, chipped – Notchwright')
    bench.key('F5')
    bench.find('Complete', 'push button', bench.found)
    bench.says('^4 assemblies$', bench.found)
    bench.says('^1 cook$', bench.found)
    bench.says('^2 unreachable$', bench.found)


def levels(bench):
    """What the list shows as levels, from the top down."""
    table = bench.find('GtkColumnListView', 'list', bench.found)
    rows = [(bench.extents(row).y, [name_of(cell) for cell in walk(row)
                                    if cell.get_role_name() == 'label'])
            for row in bench.look_all('.*', 'table row', table)]
    return [words[1] for _, words in sorted(rows) if words]


def sort_by_levels(bench):
    """Number by number: both that come apart have level 4, and the second numbers differ."""
    none, lower, higher = '–', '4·1·2·2·1', '4·2·1·1·1'
    title = bench.find('Levels?', 'label', bench.found)
    rising, falling = [lower, higher, none, none], [none, none, higher, lower]
    for wanted in (rising, falling, rising):
        bench.click(title)
        wait(lambda: levels(bench) == wanted, f'the levels {wanted}')
        time.sleep(0.5)  # two clicks at once are a double click, which sorts only once


def watch_the_cook(bench, view):
    choose(bench, 'cook')
    bench.says('pieces? (is|are) in another place than intended', bench.found)
    bench.tells(view, r'^Assembly \d, slide 0\.00 of 9')
    for slide in (1, 2):
        bench.press('One slide on', within=bench.strip)
        bench.tells(view, rf'slide {slide}\.00 of 9')
        bench.says(f'^Slide {slide} of 9: ', bench.strip)
    bench.press('One slide back', within=bench.strip)
    bench.tells(view, r'slide 1\.00 of 9')
    bench.choose(bench.find('Speed', 'combo box', bench.strip), '0.25×')
    play = bench.press('Take it apart', within=bench.strip)
    bench.tells(view, r'slide (0\.[1-9]|[1-9])')
    bench.click(play)
    bench.find('Take it apart', 'push button', bench.strip)
    held = bench.tells(view, r'slide [0-9.]+').group()
    bench.press('To the end', within=bench.strip)
    bench.tells(view, r'slide 9\.00 of 9')
    bench.says('^Slide 9 of 9: .* out ', bench.strip)
    bench.press('To the start', within=bench.strip)
    bench.tells(view, r'slide 0\.00 of 9')
    assert held not in ('slide 0.00', 'slide 9.00'), held
    scrubber = bench.find('Position on the way out', 'slider', bench.strip)
    bench.click(scrubber, 0.52)
    bench.tells(view, r'slide [3-6]\.')


def lay_beside(bench, view):
    bench.press('Compare with Intended', within=bench.found)
    bench.find('Stop Comparing', 'push button', bench.found)
    bench.press('Stop Comparing', within=bench.found)
    bench.find('Compare with Intended', 'push button', bench.found)


def watch_an_unreachable(bench, view):
    choose(bench, 'unreachable', 1)
    bench.tells(view, r'^Assembly \d, slide 0\.00 of 0')
    play = bench.find('Take it apart', 'push button', bench.strip)
    assert not is_enabled(play), 'there is nothing to play'
    bench.says('Nothing comes free of .*: they stay together', bench.strip)
    bench.press('Blockers', within=bench.strip)
    table = bench.find('What stops each piece', 'panel')
    bench.says('^What stops each piece$', table)
    bench.point_at(bench.find('[A-F]+', 'push button', table))
    bench.says(r'^Along .*, \w is blocked by ', table)
    bench.tells(view, 'what stops a piece is outlined')
    bench.press('Back to the Layers', within=table)
    bench.find('Layers', 'image')


def watch_the_intended(bench, view):
    choose(bench, 'intended')
    bench.says('^This is the intended assembly', bench.found)
    bench.press('To the end', within=bench.strip)
    bench.tells(view, r'slide 10\.00 of 10')


FEWEST = r'^Assembled\. 9 slides take it apart: 4·1·1·2·1\. That is proved to be the fewest\.$'


def has_fewest(bench):
    """In the strip, the view and the row; there is nothing left to be looked for."""
    bench.says(FEWEST, bench.strip)
    bench.tells(bench.find('View of the solid'), r'^Assembly 1, slide 0\.00 of 9')
    assert '4·1·1·2·1' in levels(bench) and '4·1·2·2·1' not in levels(bench)
    bench.gone('Fewest Slides', 'push button', bench.strip)


def find_the_fewest(bench):
    bench.press('To the start', within=bench.strip)
    bench.press('Fewest Slides', within=bench.strip)
    has_fewest(bench)


def fewest_is_kept(bench):
    bench.find('Complete', 'push button', bench.found)
    choose(bench, 'intended')
    has_fewest(bench)


def go_back(bench, view):
    bench.press('Back to Design', within=bench.found)
    bench.tells(view, '^Sketch')
    bench.click(bench.find('Piece C', 'list item', bench.pieces), 0.3, 0.2)
    bench.key('Delete')
    bench.gone('Piece C', 'list item', bench.pieces)
    bench.says('^The design has changed since this search', bench.found)
    bench.press('Undo')
    bench.find('Piece C', 'list item', bench.pieces)
    bench.find('Complete', 'push button', bench.found)
    bench.press('Redo')
    bench.gone('Piece C', 'list item', bench.pieces)
    bench.key('ctrl+z')
    bench.find('Complete', 'push button', bench.found)


with Workbench() as bench:
    search(bench)
    sort_by_levels(bench)
    view = bench.find('View of the solid')
    watch_the_cook(bench, view)
    lay_beside(bench, view)
    watch_an_unreachable(bench, view)
    watch_the_intended(bench, view)
    find_the_fewest(bench)
    go_back(bench, view)
    bench.quit()
with Workbench() as bench:
    bench.says('^6 pieces$')
    fewest_is_kept(bench)
    bench.quit()
