"""The whole job without a mouse: a new design, two pieces painted, a search, the way out, the
intended assembly."""

from driver import Workbench, focused, wait, x


def go_to(bench, name, key='Tab'):
    """Presses Tab until that has the focus."""
    for _ in range(40):
        bench.key(key)
        if focused(bench.root) == [name]:
            return
    raise AssertionError(f'Tab does not reach {name!r}')


def new_design(bench):
    bench.key('ctrl+n')
    dialog = bench.find('New Design', 'frame')
    bench.x_window('New Design')
    bench.type('By Keys')
    bench.key('alt+o')
    bench.unfold_by('Return')
    bench.key('Home', 'Return')
    bench.find('Edge of the surrounding cube.*', 'spin button', dialog)
    bench.key('Tab', 'ctrl+a')
    bench.type('2')
    bench.key('Tab')
    bench.says('Contains 12 parts in 8 cells', dialog)
    bench.key('alt+r')
    bench.closed('New Design')


def new_piece(bench, name):
    bench.key('Return')
    bench.find(f'Piece {name}', 'list item', bench.pieces)


def paint(bench):
    """Piece A is the layer y = 0 and piece B the layer y = 1; F6 goes from panel to panel."""
    wait(lambda: focused(bench.root) == ['New piece'], 'the bench')
    new_piece(bench, 'A')
    bench.key('F6', 'F6')
    board = bench.find('Layers', 'image', bench.painting)
    bench.tells(board, 'z = 0')
    go_to(bench, 'Layers across y')
    bench.key('space', *['shift+Tab'] * 9)  # past x, the layers, and Cut to Turn
    bench.unfold_by('Return')
    bench.key('Home', 'Down', 'Down', 'Return')
    bench.find('Whole layer', 'label', bench.painting)
    bench.key('F6', 'F6')
    wait(lambda: focused(bench.root) == ['New piece'], 'the pieces again')
    bench.key('F6', 'F6', 'Home')
    bench.tells(board, 'y = 0')
    bench.key('space')
    bench.tells(board, 'piece A')
    bench.key('F6', 'F6')
    new_piece(bench, 'B')
    bench.key('F6', 'F6', 'Page_Up', 'Right')
    bench.tells(board, 'y = 1, .*left over')
    bench.key('space')
    bench.tells(board, 'piece B')
    bench.says('^Every part is used', bench.pieces)


def search(bench):
    bench.key('F5')
    bench.find('as drawn', 'label', bench.found)
    bench.key('F6')
    go_to(bench, 'GtkListItemWidget')
    bench.key('Down', 'Return')
    view = bench.find('View of the solid')
    bench.tells(view, '^Assembly 1, slide 0.00 of 1')
    bench.key('F6', 'F6', 'F6')  # pieces, view, slides
    bench.key('Right')
    bench.tells(view, r'slide 1\.00 of 1')
    bench.key('Home')
    bench.tells(view, r'slide 0\.00 of 1')
    bench.key('ctrl+i', 'F5')
    bench.says('^The intended assembly is the only answer', bench.found)
    bench.key('ctrl+z')
    bench.find('as drawn', 'label', bench.found)


with Workbench() as bench:
    x('mousemove', 1279, 799)  # out of the way, and from here on left alone
    new_design(bench)
    paint(bench)
    search(bench)
    bench.quit()
