"""Drives the workbench as a person does: finds things by what a screen reader is told, and uses
the pointer and the keys of a real X server.

A test that reads a label or the description of the view asks the accessibility tree; a test that
acts moves the pointer there and presses, or types. Nothing is called inside the program.

    with Workbench() as bench:
        bench.press('New design')
        bench.type('Two Halves')
        bench.wait_text('Sketch', ...)
"""

import functools
import math
import os
import re
import subprocess
import tempfile
import time

import gi

gi.require_version('Atspi', '2.0')
from gi.repository import Atspi  # noqa: E402

PROGRAM = os.environ['NW_PROGRAM']
SAID = os.environ['NW_SAID']  # a folder for what each program writes to its standard error
PATIENCE = float(os.environ.get('NW_PATIENCE', 20))  # seconds until a wait is a failure
VISIBLE = Atspi.StateType.VISIBLE

Atspi.set_timeout(3000, 5000)


def x(*words):
    """One command of xdotool; returns what it prints."""
    done = subprocess.run(['xdotool', *map(str, words)], check=True, capture_output=True, text=True)
    return done.stdout.strip()


def wait(question, what, seconds=None):
    """Asks until the answer is true, and returns it."""
    end = time.monotonic() + (seconds or PATIENCE)
    while True:
        try:
            answer = question()
        except gi.repository.GLib.Error:  # a widget went away while it was asked
            answer = None
        if answer:
            return answer
        if time.monotonic() > end:
            raise AssertionError(f'waited in vain for {what}')
        time.sleep(0.03)


def walk(thing):
    """A thing and all that is in it and can be seen, in the order of the tree."""
    yield thing
    for i in range(min(thing.get_child_count(), 300)):
        child = thing.get_child_at_index(i)
        if child is not None and child.get_state_set().contains(VISIBLE):
            yield from walk(child)


def name_of(thing):
    return thing.get_name() or ''


def text_of(thing):
    """What stands in a label or an entry."""
    return Atspi.Text.get_text(thing, 0, Atspi.Text.get_character_count(thing))


def words_of(thing):
    """What is told of a thing that is drawn: the view, the board."""
    return thing.get_description() or ''


def value_of(thing):
    return Atspi.Value.get_current_value(thing)


def is_on(thing):
    states = thing.get_state_set()
    return states.contains(Atspi.StateType.PRESSED) or states.contains(Atspi.StateType.CHECKED)


def is_enabled(thing):
    return thing.get_state_set().contains(Atspi.StateType.SENSITIVE)


def focused(root):
    """The names of all that say they have the focus."""
    return [name_of(thing) for thing in walk(root)
            if thing.get_state_set().contains(Atspi.StateType.FOCUSED)]


def window_of(thing):
    """The top-level window that a thing is in."""
    while thing.get_parent().get_role() != Atspi.Role.APPLICATION:
        thing = thing.get_parent()
    return thing


EDGE = 8  # pixels: places that are told may be that far from where things are


class Pixels:
    """A part of the screen. Places are those of the screen."""

    def __init__(self, box, picture=None):
        """Of the screen as it is now, or of a picture of it (or any other picture)."""
        self.left, self.top, self.width, self.height = box
        source = ['convert', picture, '-alpha', 'off'] if picture else ['import', '-window', 'root']
        done = subprocess.run(
            [*source, '-crop', f'{self.width}x{self.height}+{self.left}+{self.top}',
             '-depth', '8', 'rgb:-'], check=True, capture_output=True)
        self.bytes = done.stdout
        assert len(self.bytes) == 3 * self.width * self.height, len(self.bytes)

    def at(self, place):
        first = 3 * ((place[1] - self.top) * self.width + place[0] - self.left)
        return tuple(self.bytes[first:first + 3])

    def places(self, fits):
        """All places whose colour (red, green, blue: 0 to 255) fits."""
        data = self.bytes
        for i in range(self.width * self.height):
            if fits(data[3 * i], data[3 * i + 1], data[3 * i + 2]):
                yield self.left + i % self.width, self.top + i // self.width


    def box(self, fits):
        """Left, top, right and bottom of all whose colour fits."""
        places = list(self.places(fits))
        assert places, 'nothing is seen'
        return (min(p[0] for p in places), min(p[1] for p in places),
                max(p[0] for p in places), max(p[1] for p in places))


def is_solid(red, green, blue):
    """Whether it is a piece's colour: paper, ink, shadow and buttons have next to none."""
    return max(red, green, blue) - min(red, green, blue) > 60


class Workbench:
    """One running workbench. `with` ends it in any case."""

    def __init__(self, *arguments, **environment):
        # Kept, for `run` to look through when the scenario is over.
        self._log = tempfile.NamedTemporaryFile('w+', dir=SAID, delete=False)
        self.process = subprocess.Popen([PROGRAM, *arguments], env={**os.environ, **environment},
                                        stderr=self._log)
        self._corners = {}  # of windows that stay where they are
        try:
            self.x_window('Notchwright')  # asking the bus before that makes it complain
            self.root = wait(self._application, 'the accessible application')
        except BaseException:
            self.process.kill()
            raise

    def __enter__(self):
        return self

    def __exit__(self, kind, error, trace):
        if self.process.poll() is None:
            if kind:
                self.shoot(os.path.join(os.environ.get('NW_SHOTS', '.'), 'failed.png'))
                if 'NW_TELL' in os.environ:
                    print(*self.labels(), sep='\n')
            self.process.kill()
            self.process.wait()
        if kind and self.process.returncode != -9:
            print('the program ended with', self.process.returncode)
        if kind and self.complaints():
            print('the program said:', self.complaints())

    def _application(self):
        desktop = Atspi.get_desktop(0)
        for i in range(desktop.get_child_count()):
            thing = desktop.get_child_at_index(i)
            if thing and thing.get_process_id() == self.process.pid and thing.get_child_count():
                return thing
        return None

    # ---- finding ---------------------------------------------------------------------------

    def x_window(self, title):
        """The X window of that title, before which the design's name may stand: newest last."""
        def search():
            assert self.process.poll() is None, f'the program ended ({self.process.returncode})'
            found = subprocess.run(
                ['xdotool', 'search', '--onlyvisible', '--all', '--pid', str(self.process.pid),
                 '--name', f'^(.+ – )?{re.escape(title)}$'], capture_output=True, text=True)
            return found.stdout.split()
        return wait(search, f'a window {title!r}')[-1]

    def closed(self, title):
        """Waits until a window is closed. The X server is asked: GTK 4.8 can crash when the
        accessibility tree of a window is looked through while it closes."""
        wait(lambda: not subprocess.run(
            ['xdotool', 'search', '--onlyvisible', '--all', '--pid', str(self.process.pid),
             '--name', f'^(.+ – )?{re.escape(title)}$'], capture_output=True, text=True).stdout.split(),
             f'the window {title!r} to close')
        time.sleep(0.1)

    def look(self, name=None, role=None, within=None):
        """The first thing that can be seen with that name (a pattern) and role, or None."""
        for thing in walk(within or self.root):
            if role and thing.get_role_name() != role:
                continue
            if name is None or re.fullmatch(name, name_of(thing)):
                return thing
        return None

    # The panels of the bench; to look within one is quicker than to look everywhere.
    pieces = functools.cached_property(lambda self: self.find('Pieces', 'panel'))
    painting = functools.cached_property(lambda self: self.find('Painting by layers', 'panel'))
    found = functools.cached_property(lambda self: self.find('Assemblies found', 'panel'))
    strip = functools.cached_property(lambda self: self.find('Slides', 'panel'))

    def look_all(self, name, role=None, within=None):
        return [thing for thing in walk(within or self.root)
                if re.fullmatch(name, name_of(thing)) and role in (None, thing.get_role_name())]

    def find(self, name=None, role=None, within=None, seconds=None):
        return wait(lambda: self.look(name, role, within), f'{role or "thing"} {name!r}', seconds)

    def gone(self, name=None, role=None, within=None):
        wait(lambda: not self.look(name, role, within), f'{name!r} to go away')

    def labels(self, within=None):
        named = [thing for thing in walk(within or self.root)
                 if not re.fullmatch('|(Gtk|Nw)[A-Za-z]*', name_of(thing))]
        return [f'{thing.get_role_name()}: {name_of(thing)}' for thing in named]

    def says(self, pattern, within=None, seconds=None):
        """Waits until some label says that; returns the match."""
        def ask():
            for thing in walk(within or self.root):
                match = re.search(pattern, name_of(thing))
                if match:
                    return match
            return None
        return wait(ask, f'a label that says {pattern!r}', seconds)

    def tells(self, thing, pattern, seconds=None):
        """Waits until that is told of a thing that is drawn; returns the match."""
        def ask():
            words = words_of(thing)
            ask.last = words
            return re.search(pattern, words)
        ask.last = ''
        try:
            return wait(ask, '', seconds)
        except AssertionError:
            raise AssertionError(f'{name_of(thing)!r} tells {ask.last!r}, '
                                 f'not {pattern!r}') from None

    # ---- pointing --------------------------------------------------------------------------

    def moved(self):
        """To be said when windows went elsewhere."""
        self._corners.clear()

    def _place(self, thing):
        """Left, top, width and height on the screen; a little short of the truth at the edges."""
        title = name_of(window_of(thing))
        corner = self._corners.get(title)
        if not corner:
            shell = x('getwindowgeometry', '--shell', self.x_window(title)).splitlines()
            place = dict(line.split('=') for line in shell)
            corner = self._corners[title] = int(place['X']), int(place['Y'])
        box = self.extents(thing)
        return corner[0] + box.x, corner[1] + box.y, box.width, box.height

    @staticmethod
    def extents(thing):
        """Its place in its window."""
        return Atspi.Component.get_extents(thing, Atspi.CoordType.WINDOW)

    def point_at(self, thing, right=0.5, down=0.5):
        """Moves the pointer to that share of a thing's width and height."""
        left, top, width, height = self._place(thing)
        x('mousemove', int(left + width * right), int(top + height * down))

    def seek(self, thing, told, pattern, downs=(0.3, 0.45, 0.6)):
        """Moves over a drawn thing until another tells of a place that fits; returns the place,
        as shares of its width and height."""
        left, top, width, height = self._place(thing)
        for down in downs:
            for right in (i / 40 for i in range(4, 38)):
                x('mousemove', int(left + width * right), int(top + height * down))
                time.sleep(0.03)
                if re.search(pattern, words_of(told)):
                    return right, down
        raise AssertionError(f'no place on {name_of(thing)!r} is {pattern!r}')

    def click(self, thing, right=0.5, down=0.5, button=1, holding=None):
        self.point_at(thing, right, down)
        if holding:
            x('keydown', holding)
        x('click', button)
        if holding:
            x('keyup', holding)

    def spot(self, thing, right=0.5, down=0.5):
        """The place on the screen that is that share of a thing's width and height."""
        left, top, width, height = self._place(thing)
        return int(left + width * right), int(top + height * down)

    @staticmethod
    def move(start, end):
        """Moves the pointer from one place on the screen to another as a hand does: through every
        third pixel or so, one event after another."""
        steps = max(1, round(math.dist(start, end) / 3))
        words = []
        for i in range(steps + 1):
            place = (round(a + (b - a) * i / steps) for a, b in zip(start, end))
            words += ['mousemove', *place, 'sleep', 0.006]
        x(*words)

    def drag_to(self, start, end, button=1, holding=None):
        """Drags from one place on the screen to another."""
        x('mousemove', *start)
        if holding:
            x('keydown', holding)
        x('mousedown', button)
        self.move(start, end)
        x('mouseup', button)
        if holding:
            x('keyup', holding)

    def drag(self, thing, start, end, button=1):
        """From one share of a thing to another."""
        self.drag_to(self.spot(thing, *start), self.spot(thing, *end), button)

    def double_click_at(self, place):
        x('mousemove', *place)
        x('click', '--repeat', 2, '--delay', 60, 1)

    def wheel(self, place, steps):
        """Turns the wheel there: towards what is seen, or away from it below 0."""
        x('mousemove', *place)
        x('click', '--repeat', abs(steps), '--delay', 30, 4 if steps > 0 else 5)

    def press(self, name, role='push button', within=None):
        """Clicks a button once it can be pressed."""
        thing = self.find(name, role, within)
        wait(lambda: is_enabled(thing), f'{name!r} to be enabled')
        self.click(thing)
        return thing

    def _x_windows(self):
        found = subprocess.run(['xdotool', 'search', '--onlyvisible', '--all', '--pid',
                                str(self.process.pid), '--name', '.*'],
                               capture_output=True, text=True)
        return set(found.stdout.split())

    def unfold(self, thing):
        """Clicks what opens a menu or a list, and waits until it is open."""
        before = self._x_windows()
        self.click(thing)
        wait(lambda: self._x_windows() - before, 'a menu to open')

    def unfold_by(self, key):
        """The same, by a key."""
        before = self._x_windows()
        self.key(key)
        wait(lambda: self._x_windows() - before, 'a menu to open')

    def choose(self, combo, item):
        """Unfolds a list of choices and goes to one of them by keys: the list has an X window of
        its own, so its places on the screen are not told."""
        self.unfold(combo)
        self.choose_unfolded(combo, item)

    def choose_unfolded(self, combo, item):
        items = wait(lambda: self._items(combo), 'the list of choices')
        self.key('Home', *['Down'] * items.index(item), 'Return')
        wait(lambda: self.look(item, 'label', combo), f'{item!r} to be chosen')

    def choose_last(self, combo):
        self.unfold(combo)
        self.choose_unfolded(combo, wait(lambda: self._items(combo), 'the list of choices')[-1])

    @staticmethod
    def _items(combo):
        for thing in walk(combo):
            if thing.get_role() == Atspi.Role.LIST:
                return [name_of(label) for label in walk(thing)
                        if label.get_role() == Atspi.Role.LABEL]
        return None

    # ---- keys ------------------------------------------------------------------------------

    def key(self, *keys):
        for key in keys:
            x('key', key)

    def type(self, text):
        x('type', '--delay', 8, text)

    def replace(self, entry, text):
        """Clicks an entry and types over what is in it."""
        self.click(entry)
        self.key('ctrl+a')
        self.type(text)

    # ---- the end ---------------------------------------------------------------------------

    def complaints(self):
        """What the program wrote to its standard error."""
        self._log.seek(0)
        return self._log.read().strip()

    def ended(self, seconds=10):
        """Waits until the program ends by itself, cleanly and in silence."""
        try:
            status = self.process.wait(seconds)
        except subprocess.TimeoutExpired:
            raise AssertionError(f'still running after {seconds} s') from None
        assert (status, self.complaints()) == (0, ''), (status, self.complaints())

    def quit(self):
        self.key('ctrl+q')
        self.ended()

    def picture(self, thing, away=True):
        """What is drawn of a thing, once it is at rest (see Pixels), with the pointer out of the
        way unless it is to stay where it is."""
        if away:
            x('mousemove', 2, 2)
        left, top, width, height = self._place(thing)
        box = left + EDGE, top + EDGE, width - EDGE, height - EDGE

        def at_rest():
            before = Pixels(box)
            time.sleep(0.3)  # a view at rest is drawn once more, finely
            after = Pixels(box)
            return after if after.bytes == before.bytes else None
        return wait(at_rest, f'{name_of(thing)!r} to come to rest')

    def resize(self, title, width, height):
        """Resizes a window, which then stands in the upper left corner: xdotool does not tell of
        every move that a window manager makes of its own accord."""
        window = self.x_window(title)
        x('windowsize', window, width, height)
        wait(lambda: f'WIDTH={width}\nHEIGHT={height}' in x('getwindowgeometry', '--shell', window),
             f'a window of {width} × {height}')
        time.sleep(0.5)
        x('windowmove', window, 0, 0)
        time.sleep(0.5)
        self._corners.clear()

    def shoot(self, path):
        subprocess.run(['import', '-window', 'root', path], check=True)
