"""Drives the workbench under a Wayland compositor (sway, drawing to no screen): the same words and
checks as driver.py, but for how the pointer moves, how keys are pressed and how pictures are taken.

Pointer: a device of our own, by the protocol wlr-virtual-pointer-unstable-v1 over the compositor's
socket. It is there before the program starts, so the program knows it from the beginning. Keys:
wtype brings a keyboard and takes it away again, and a program hears of a keyboard only after it has
come; so wtype waits before its first key, or that key is lost."""

import json
import os
import socket
import struct
import subprocess
import time

from driver import EDGE, Pixels, Workbench, wait

SCREEN = tuple(int(side) for side in os.environ['NW_SCREEN'].split('x'))
BUTTONS = {1: 0x110, 2: 0x112, 3: 0x111}  # linux/input-event-codes.h: BTN_LEFT, _MIDDLE, _RIGHT
KEYBOARD_MS = 1200  # until a program knows of a keyboard that has come

DISPLAY, REGISTRY, CALLBACK, MANAGER, POINTER = 1, 2, 3, 4, 5  # our numbers for objects


class Pointer:
    def __init__(self):
        self.socket = socket.socket(socket.AF_UNIX)
        self.socket.connect(os.path.join(os.environ['XDG_RUNTIME_DIR'],
                                         os.environ['WAYLAND_DISPLAY']))
        self._ask(DISPLAY, 1, 'I', REGISTRY)
        self._ask(DISPLAY, 0, 'I', CALLBACK)  # answered when all globals have been told
        interface = 'zwlr_virtual_pointer_manager_v1'
        number = self._number_of(interface)
        self._ask(REGISTRY, 0, 'I32sII', number, interface, 1, MANAGER)
        self._ask(MANAGER, 0, 'II', 0, POINTER)  # of whatever seat there is

    def _ask(self, thing, request, kinds, *values):
        """Kinds: I and i as in struct, 32s for a string with its length before it."""
        words = b''
        for kind, value in zip(kinds.replace('32s', 's'), values):
            if kind == 's':
                letters = value.encode() + b'\0'
                words += struct.pack('=I', len(letters)) + letters + b'\0' * (-len(letters) % 4)
            else:
                words += struct.pack('=' + kind, value)
        self.socket.sendall(struct.pack('=IHH', thing, request, 8 + len(words)) + words)

    def _number_of(self, interface):
        data = b''
        while True:
            more = self.socket.recv(65536)
            assert more, 'the compositor hung up'
            data += more
            while len(data) >= 8 and len(data) >= struct.unpack('=H', data[6:8])[0]:
                thing, event, length = struct.unpack('=IHH', data[:8])
                body, data = data[8:length], data[length:]
                if thing == REGISTRY and event == 0 and body[8:].startswith(
                        interface.encode() + b'\0'):
                    return struct.unpack('=I', body[:4])[0]
                assert thing != CALLBACK, f'the compositor has no {interface}'

    @staticmethod
    def _now():
        return int(time.monotonic() * 1000) & 0xffffffff

    def _end_of_frame(self):
        self._ask(POINTER, 4, '')

    def go(self, place):
        self._ask(POINTER, 1, 'IIIII', self._now(), *place, *SCREEN)
        self._end_of_frame()

    def press(self, button, down):
        self._ask(POINTER, 2, 'III', self._now(), BUTTONS[button], down)
        self._end_of_frame()

    def wheel(self, step):
        """One notch: 15 units, as libinput tells them, in 256ths; up is towards what is seen."""
        self._ask(POINTER, 5, 'I', 0)
        self._ask(POINTER, 7, 'IIii', self._now(), 0, -15 * 256 * step, -step)
        self._end_of_frame()


class WaylandBench(Workbench):
    def __init__(self, *arguments, **environment):
        self.pointer = Pointer()
        self.pointer.go((2, 2))
        super().__init__(*arguments, **environment)

    # ---- windows ---------------------------------------------------------------------------

    @staticmethod
    def _titles():
        done = subprocess.run(['swaymsg', '-r', '-t', 'get_tree'], check=True,
                              capture_output=True, text=True)
        titles, nodes = [], [json.loads(done.stdout)]
        while nodes:
            node = nodes.pop()
            if node.get('pid'):
                titles.append(node['name'])
            nodes += node['nodes'] + node['floating_nodes']
        return titles

    def _is_there(self, title):
        """Whether a window has that title, before which the design's name may stand."""
        return any(own == title or own.endswith(f' – {title}') for own in self._titles() if own)

    def x_window(self, title):
        def search():
            assert self.process.poll() is None, f'the program ended ({self.process.returncode})'
            return self._is_there(title)
        wait(search, f'a window {title!r}')
        return title

    def closed(self, title):
        wait(lambda: not self._is_there(title), f'the window {title!r} to close')

    def _place(self, thing):
        """The one window fills the screen."""
        box = self.extents(thing)
        return box.x, box.y, box.width, box.height

    # ---- pointer, keys, pictures -----------------------------------------------------------

    def point_at(self, thing, right=0.5, down=0.5):
        self.pointer.go(self.spot(thing, right, down))

    def click(self, thing, right=0.5, down=0.5, button=1, holding=None):
        assert not holding
        self.point_at(thing, right, down)
        time.sleep(0.1)
        self.pointer.press(button, True)
        self.pointer.press(button, False)

    def drag_to(self, start, end, button=1, holding=None):
        if holding:
            with subprocess.Popen(['wtype', '-s', str(KEYBOARD_MS), '-M', holding, '-s', '2500', '-m',
                                   holding]):
                time.sleep(KEYBOARD_MS / 1000 + 0.4)
                self.drag_to(start, end, button)
            return
        self.pointer.go(start)
        time.sleep(0.1)
        self.pointer.press(button, True)
        for i in range(31):
            self.pointer.go(tuple(round(a + (b - a) * i / 30) for a, b in zip(start, end)))
            time.sleep(0.01)
        self.pointer.press(button, False)

    def wheel(self, place, steps):
        self.pointer.go(place)
        time.sleep(0.1)
        for _ in range(abs(steps)):
            self.pointer.wheel(1 if steps > 0 else -1)
            time.sleep(0.05)

    def key(self, *keys):
        """Keys as xdotool names them: ctrl+shift+s, F5, Home."""
        words = ['-s', KEYBOARD_MS]
        for key in keys:
            *held, last = key.split('+')
            for name in held:
                words += ['-M', name]
            words += ['-k', last, '-s', 50]
            for name in held:
                words += ['-m', name]
        self._wtype(words + ['-s', 200])

    def type(self, text):
        self._wtype(['-s', KEYBOARD_MS, '-d', 8, text, '-s', 200])

    @staticmethod
    def _wtype(words):
        subprocess.run(['wtype', *map(str, words)], check=True)

    def picture(self, thing, away=True):
        if away:
            self.pointer.go((2, 2))
        left, top, width, height = self._place(thing)
        box = left + EDGE, top + EDGE, width - 2 * EDGE, height - 2 * EDGE
        path = os.path.join(os.environ['NW_HOME'], 'screen.png')

        def at_rest():
            self.shoot(path)
            before = Pixels(box, path)
            time.sleep(0.4)
            self.shoot(path)
            after = Pixels(box, path)
            return after if after.bytes == before.bytes else None
        return wait(at_rest, 'the view to come to rest')

    def shoot(self, path):
        subprocess.run(['grim', path], check=True)
