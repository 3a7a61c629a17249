"""From nothing to an intended assembly, and it is all there after a restart.

A tetrahedron of twelve parts in two halves: one painted on the layer board, one in the view."""

from driver import Workbench, is_on, wait


def new_design(bench):
    bench.click(bench.find('New design', 'table cell'))
    dialog = bench.find('New Design', 'frame')
    bench.type('Two Halves')
    bench.choose(bench.find('Outside shape.*', 'combo box', dialog), 'Tetrahedron')
    bench.replace(bench.find('Edge of the surrounding cube.*', 'spin button', dialog), '2')
    bench.key('Tab')
    bench.says('Contains 12 parts in 8 cells', dialog)
    bench.press('Create.*', within=dialog)
    bench.closed('New Design')
    bench.says('^Unused: 2⅔ cells$')


def brush(bench, what):
    bench.choose(bench.find('Brush', 'combo box', bench.painting), what)


def row(bench, piece):
    return bench.find(f'Piece {piece}', 'list item', bench.pieces)


def paint_on_board(bench):
    """Piece A: the layer y = 0, in one stroke. Then a part is taken away, and that undone."""
    bench.press('New piece', within=bench.pieces)
    bench.says('no parts yet', row(bench, 'A'))
    bench.press('Layers across y', within=bench.painting)
    brush(bench, 'Whole layer')
    board = bench.find('Layers', 'image', bench.painting)
    place = bench.seek(board, board, 'y = 0, .*left over')
    bench.click(board, *place)
    bench.says('^1⅓ cells$', row(bench, 'A'))
    brush(bench, 'One part')
    bench.click(board, *place, holding='shift')
    bench.says('^1⅙ cells$|^1 cell$', row(bench, 'A'))
    bench.press('Undo')
    bench.says('^1⅓ cells$', row(bench, 'A'))


def paint_in_view(bench):
    """Piece B: what is left over, poured in with one click on the solid."""
    bench.press('New piece', within=bench.pieces)
    bench.says('no parts yet', row(bench, 'B'))
    brush(bench, 'Whole cell')
    view = bench.find('View of the solid')
    place = bench.seek(view, bench.find('Layers', 'image', bench.painting), 'left over')
    bench.click(view, *place)
    bench.says('^[⅙⅓½⅔⅚] cell$', row(bench, 'B'))
    bench.key('ctrl+z')
    bench.says('^0 cells$', row(bench, 'B'))
    brush(bench, 'Connected parts')
    bench.click(view, *place)
    bench.says('^1⅓ cells$', row(bench, 'B'))
    bench.says('^Every part is used', bench.pieces)


def look_through(bench):
    """How pieces are drawn is remembered."""
    bench.press('See-through')
    wait(lambda: is_on(bench.find('See-through', 'push button')), 'the view to be see-through')


def search_and_choose(bench):
    """Finds the one assembly, takes it apart by hand and makes it the intended one."""
    bench.press('Search', within=bench.found)
    bench.says('^1 assembly$', bench.found)
    bench.find('Complete', 'push button', bench.found)
    bench.click(bench.find('as drawn', 'label', bench.found))
    view = bench.find('View of the solid')
    bench.tells(view, '^Assembly 1, slide 0.00 of 1')
    scrubber = bench.find('Position on the way out', 'slider', bench.strip)
    bench.drag(scrubber, (0.02, 0.5), (0.5, 0.5))
    bench.tells(view, r'slide 0\.[3-7]')
    bench.drag(scrubber, (0.5, 0.5), (1.1, 0.5))
    bench.tells(view, r'slide 1\.00 of 1')
    bench.press('Make Intended', within=bench.found)
    bench.find('intended', 'label', bench.found)
    bench.says('^The intended assembly is the only answer', bench.found)


def is_all_there(bench):
    """After a restart: the design that was open last, its findings, and its history."""
    bench.says('^2 pieces$')
    assert is_on(bench.find('See-through', 'push button')), 'the look was not remembered'
    bench.says('^1⅓ cells$', row(bench, 'A'))
    bench.says('^Every part is used', bench.pieces)
    bench.find('intended', 'label', bench.found)
    bench.says('^The intended assembly is the only answer', bench.found)
    bench.find('Complete', 'push button', bench.found)
    for cells in ('1⅓', '0'):  # back: intended, the fill
        bench.press('Undo')
        bench.says(f'^{cells} cells$', row(bench, 'B'))
    bench.says('^The design has changed since this search', bench.found)
    bench.press('Redo')
    bench.press('Redo')
    bench.says('^The intended assembly is the only answer', bench.found)


with Workbench() as bench:
    new_design(bench)
    paint_on_board(bench)
    paint_in_view(bench)
    search_and_choose(bench)
    look_through(bench)
    bench.quit()
with Workbench() as bench:
    is_all_there(bench)
    bench.quit()
