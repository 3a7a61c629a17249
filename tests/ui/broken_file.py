"""What is named on the command line and is no design: the start page comes up as it always does,
with its title and without the buttons of the bench, and one sentence says what is wrong. From there
everything works."""

import os

from driver import Workbench

HOME = os.environ['NW_HOME']


def make(name, content):
    path = os.path.join(os.fsencode(HOME), name)
    if content is not None:
        with open(path, 'wb') as file:
            file.write(content)
    return path


os.mkdir(os.path.join(HOME, 'folder'))
CASES = [
    (make(b'broken.json', b'{"format": "notchwright design", "version": 1,\n'), 'broken.json'),
    (make(b'list.json', b'[1, 2]'), 'list.json'),
    (make(b'empty.json', b''), 'empty.json'),
    (make(b'latin.json', 'W\u00fcrfel'.encode('latin-1')), 'latin.json'),
    (make(b'missing.json', None), 'missing.json: cannot be opened'),
    (make(b'folder', None), 'folder: cannot be (opened|read)'),
    (make(b'odd-\xff.json', b'{}'), 'odd-.\\.json'),
    (b'https://example.org/design.json', 'is not a local file'),
]


def is_start_page(bench):
    bench.find('Notchwright', 'label')
    bench.find('Designs', 'label')
    bench.find('Ember Lantern', 'table cell')
    for name in ('Undo', 'Redo', 'All designs'):
        assert not bench.look(name, 'push button'), f'the button {name!r} is of the bench'


for path, said in CASES:
    with Workbench(path) as bench:
        told = bench.says(said).string
        assert told[-1] == '.' and '\n' not in told, told
        is_start_page(bench)
        if path.endswith(b'folder'):
            bench.click(bench.find('Ember Lantern', 'table cell'))
            bench.find('Undo', 'push button')
            bench.says('^6 pieces$')
        bench.quit()
