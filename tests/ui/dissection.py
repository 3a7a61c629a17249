"""A cube cut at random into connected pieces, as a design in a file."""

import bisect
import json
import random

STEPS = [(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1)]


def cut(seed, size, pieces):
    """Its cells, and which piece owns each: grown from as many cells."""
    dice = random.Random(seed)
    cells = [(x, y, z) for x in range(size) for y in range(size) for z in range(size)]
    owner = {cell: piece for piece, cell in enumerate(dice.sample(cells, pieces))}
    grown = sorted(owner.items())
    while len(owner) < len(cells):
        cell, piece = dice.choice(grown)
        there = tuple(map(sum, zip(cell, dice.choice(STEPS))))
        if min(there) >= 0 and max(there) < size and there not in owner:
            owner[there] = piece
            bisect.insort(grown, (there, piece))
    return cells, owner


def write_design(path, name, size, count):
    cells, owner = cut(1, size, count)
    pieces = [{'name': f'P{piece + 1}',
               'cells': [[*cell, 31] for cell in cells if owner[cell] == piece]}
              for piece in range(count)]
    with open(path, 'w', encoding='utf-8') as file:
        json.dump({'format': 'notchwright design', 'version': 1, 'name': name,
                   'envelope': {'cells': [[*cell, 31] for cell in cells]}, 'pieces': pieces}, file)
