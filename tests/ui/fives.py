"""The twelve pentominoes and a box, as a design in a file."""

import json

PIECES = {
    'F': ('.##', '##.', '.#.'), 'I': ('#####',), 'L': ('####', '#...'), 'N': ('##..', '.###'),
    'P': ('##', '##', '#.'), 'T': ('###', '.#.', '.#.'), 'U': ('#.#', '###'),
    'V': ('#..', '#..', '###'), 'W': ('#..', '##.', '.##'), 'X': ('.#.', '###', '.#.'),
    'Y': ('####', '.#..'), 'Z': ('##.', '.#.', '.##'),
}


def write_design(path, box):
    width, depth, height = box
    cells = [[x, y, z, 31] for x in range(width) for y in range(depth) for z in range(height)]
    pieces = [{'name': name, 'cells': [[x, y, 0, 31] for y, row in enumerate(rows)
                                       for x, mark in enumerate(row) if mark == '#']}
              for name, rows in PIECES.items()]
    assert all(len(piece['cells']) == 5 for piece in pieces)
    with open(path, 'w', encoding='utf-8') as file:
        json.dump({'format': 'notchwright design', 'version': 1, 'name': 'Twelve Fives',
                   'envelope': {'cells': cells}, 'pieces': pieces}, file)
