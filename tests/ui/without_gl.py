"""Where OpenGL is refused the view says so, and everything else goes on working."""

import json
import os

from driver import Workbench, wait

saved = os.path.join(os.environ['NW_HOME'], 'copy.json')

with Workbench(GDK_DEBUG='gl-disable', GSK_RENDERER='cairo') as bench:
    bench.click(bench.find('Ember Lantern, chipped', 'table cell'))
    bench.says('^6 pieces$')
    bench.says('^The view cannot be drawn: .*Everything else still works')

    board = bench.find('Layers', 'image')
    bench.click(bench.find('Piece B', 'list item'), 0.3, 0.2)
    bench.click(board, *bench.seek(board, board, 'piece A'))
    bench.tells(board, 'piece B')
    bench.key('ctrl+z')
    bench.tells(board, 'piece A')

    bench.press('Search')
    bench.says('^4 assemblies$')
    bench.click(bench.find('cook', 'label', bench.find('Assemblies', 'tree table')))
    bench.press('To the end')
    bench.says('^Slide 9 of 9: ')

    bench.key('ctrl+shift+s')
    bench.x_window('Save a copy of the design')
    bench.key('ctrl+a')
    bench.type(saved)
    bench.key('Return')
    wait(lambda: os.path.exists(saved), 'the copy')
    with open(saved, encoding='utf-8') as file:
        assert len(json.load(file)['pieces']) == 6
    bench.quit()
