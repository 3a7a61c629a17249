#!/usr/bin/python3
"""Does what README.md and the manual page show, as a person would who types it in, line by line,
and compares what data/designs/README.md says of each design.

    run.py (readme | manual | designs) SOURCE_ROOT BUILD_ROOT

Every command that is shown is run, in order, in a folder that is empty but for what a clone of the
project has: build-aux/, data/ and build/. Whatever output is shown below a command must come out,
but for the figures in VARIES. A command that this file does not know how to run is a failure, so
that none is shown that nobody has tried. Pictures and files that README.md links to must be there.
"""

import difflib
import os
import re
import shutil
import subprocess
import sys
import tempfile

# What is different each time, or on each machine: a pattern, and what takes its place in both.
VARIES = [
    (r'\b\d+\.\d\d s\b', '(time) s'),  # how long a search took
]

# Commands that are left to others, and to whom. The rest of README.md is run.
LEFT = {
    'build-aux/test': 'it runs this test; a stage of .ci/run runs it on a bare Debian',
    'build-aux/deb': 'the stage "package" of .ci/run does so',
    'sudo apt install ./build/notchwright_*.deb': 'that stage again, on a bare Debian',
    'build-aux/screenshots': 'it needs a display and minutes',
}


# Those that end with another status than 0 (the manual page tells what each means).
ENDS = [
    (r'notch make sheet .*chipped', 2),  # refused
    (r'notch block .* --limit ', 3),     # stopped by a limit
]

PROGRAM = re.compile(r'(?:build/src/cli/)?notch\b|build-aux/|ninja\b|meson\b|sudo\b|apt')
WORD = re.compile(r'--[a-z-]+')


class Failure(Exception):
    """Something that is shown is not so."""


def code_blocks(text):
    """The indented blocks of a Markdown text, as (line number, lines without their indent)."""
    lines = text.split('\n')
    at = 0
    while at < len(lines):
        indent = len(lines[at]) - len(lines[at].lstrip(' '))
        if lines[at].strip() and indent >= 4 and not lines[at - 1].strip():
            begin = at
            while at < len(lines) and (not lines[at].strip() or lines[at].startswith(' ' * indent)):
                at += 1
            block = [line[indent:] for line in lines[begin:at]]
            while not block[-1]:
                block.pop()
            yield begin + 1, block
        else:
            at += 1


def inline_commands(text):
    """The commands within the sentences, as (line number, command)."""
    for number, line in enumerate(text.split('\n'), 1):
        if not line.startswith('    '):
            for code in re.findall(r'`([^`]+)`', line):
                if PROGRAM.match(code) and ' ' in code or code.startswith('build-aux/'):
                    yield number, code


def steps(text):
    """What README.md lets a person do: [line, command, output]."""
    last = None
    for number, block in code_blocks(text):
        if any(line.startswith('$ ') for line in block):
            for offset, line in enumerate(block):
                if line.startswith('$ '):
                    last = [number + offset, line[2:], []]
                    yield last
                elif last is None:
                    raise Failure(f'line {number}: output without a command')
                else:
                    last[2].append(line)
        elif all(PROGRAM.match(line) for line in block if line):
            for offset, line in enumerate(block):
                if line:
                    # Remarks behind a command are no part of it.
                    last = [number + offset, line.split('  #')[0].rstrip(), []]
                    yield last
        else:
            raise Failure(f'line {number}: this is no command that is known here: {block[0]}')


def same_for_all(text):
    for pattern, stands in VARIES:
        text = re.sub(pattern, stands, text)
    return text


def print_difference(shown, told):
    for line in difflib.unified_diff(shown, told, 'shown', 'told', lineterm='', n=1):
        print('  ' + line)


class Place:
    """The folder, and what has been done in it."""

    def __init__(self, folder, source, build):
        self.folder = folder
        shutil.copytree(os.path.join(source, 'data'), os.path.join(folder, 'data'))
        shutil.copytree(os.path.join(source, 'build-aux'), os.path.join(folder, 'build-aux'))
        os.symlink(build, os.path.join(folder, 'build'))
        # Everything is built: what build-aux/run does before that is tried by .ci/run.
        with open(os.path.join(folder, 'build-aux', 'build'), 'w') as script:
            script.write('#!/bin/sh\n')
        os.chmod(os.path.join(folder, 'build-aux', 'build'), 0o755)
        self.environment = {
            'PATH': os.path.join(folder, 'build', 'src', 'cli') + ':' + os.environ['PATH'],
            'HOME': folder,
            'XDG_DATA_HOME': os.path.join(folder, '.local', 'share'),
            'LC_ALL': 'C.UTF-8',
        }
        for name in ('ASAN_OPTIONS', 'UBSAN_OPTIONS', 'TMPDIR', 'LIBGL_ALWAYS_SOFTWARE'):
            if name in os.environ:
                self.environment[name] = os.environ[name]

    def run(self, command):
        """Exit status, and what was printed, first on standard output."""
        done = subprocess.run(['bash', '-c', command], cwd=self.folder, env=self.environment,
                              stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, encoding='utf-8', timeout=200)
        return done.returncode, (done.stdout + done.stderr).split('\n')[:-1]

    def check_words(self, command):
        """Of a command in a sentence, perhaps with a place for a name: the verb and its options
        are there."""
        words = command.removeprefix('build/src/cli/').split()[1:]
        if words[0].startswith('--'):
            status, told = self.run('notch ' + words[0])
        else:
            status, told = self.run(' '.join(['notch', *words[:2 if words[0] == 'make' else 1],
                                              '--help']))
        missing = [word for word in WORD.findall(command) if word not in '\n'.join(told)]
        if status or (missing and not words[0].startswith('--')):
            raise Failure(f'{command}: notch does not know this')


def perform(place, number, command, shown):
    while shown and not shown[-1]:
        shown.pop()
    status, told = place.run(command)
    ends = next((status for pattern, status in ENDS if re.search(pattern, command)), 0)
    if status != ends:
        print(*('  ' + line for line in told), sep='\n')
        raise Failure(f'line {number}: {command}: exit status {status}')
    if not shown:
        return
    shown = [same_for_all(line) for line in shown]
    told = [same_for_all(line) for line in told]
    if shown != told:
        print_difference(shown, told)
        raise Failure(f'line {number}: {command}: it says something else')


def try_readme(place, source):
    with open(os.path.join(source, 'README.md')) as file:
        text = file.read()
    failures, done = [], 0
    for link in re.findall(r'\]\(([^)]+)\)', text):
        if not os.path.isfile(os.path.join(source, link)):
            failures.append(Failure(f'{link} is shown or linked to, and is not there'))
    # All are read first: a command is followed by its output.
    for number, command, output in list(steps(text)):
        try:
            if command not in LEFT:
                perform(place, number, command, output)
                done += 1
        except Failure as failure:
            failures.append(failure)
    for number, command in inline_commands(text):
        try:
            if command.startswith(('notch ', 'build/src/cli/notch ')):
                place.check_words(command)
            elif command not in LEFT and not os.access(os.path.join(place.folder, command), os.X_OK):
                raise Failure(f'line {number}: {command}: it is not known here')
        except Failure as failure:
            failures.append(failure)
    return done, failures


def unescape(line):
    """A line of a display of the manual page as it is typed in."""
    return line.removeprefix('\\&').replace('\\(dq', '"').replace('\\-', '-').replace('\\e', '\\')


def manual_examples(page):
    """The displays of the section EXAMPLES, as (line number of the first line, lines)."""
    inside = block = None
    for number, line in enumerate(page.split('\n'), 1):
        if line.startswith('.Sh '):
            inside = line == '.Sh EXAMPLES'
        elif line.startswith('.Bd'):
            block = []
        elif line.startswith('.Ed'):
            if inside:
                yield number - len(block), block
            block = None
        elif block is not None:
            block.append(unescape(line))


def try_manual(place, source):
    """A person has a design in a file, which the page calls tetrahedron.json. A display in braces is
    a file too, and the sentence before it says its name."""
    shutil.copy(os.path.join(source, 'data', 'designs', 'ember-lantern-chipped.json'),
                os.path.join(place.folder, 'tetrahedron.json'))
    with open(os.path.join(source, 'data', 'notch.1')) as file:
        page = file.read()
    failures, done = [], 0
    for number, block in manual_examples(page):
        if block[0] == '{':
            name = re.findall(r'^\.Pa (\S+)', '\n'.join(page.split('\n')[:number]), re.M)[-1]
            with open(os.path.join(place.folder, name), 'w') as file:
                file.write('\n'.join(block) + '\n')
            continue
        for offset, command in enumerate(block):
            try:
                perform(place, number + offset, command, [])
                done += 1
            except Failure as failure:
                failures.append(failure)
    return done, failures


NAMED = re.compile(r'^\*\*[^*]+\*\* \(`([^`]+\.json)`\)', re.M)
WAY_OUT = re.compile(r'[Ll]evels ([\d·]+),\s+total (\d+)')
LISTED = re.compile(r'^ +\d+  (?:intended|cook) +levels ([\d·]+), (\d+) slides', re.M)


def try_designs(place, source):
    """The levels and the total of every assembly that opens are those that fit prints."""
    folder = os.path.join(source, 'data', 'designs')
    with open(os.path.join(folder, 'README.md')) as file:
        text = file.read()
    failures, done = [], 0
    names = list(NAMED.finditer(text))
    there = {name for name in os.listdir(folder) if name.endswith('.json')}
    for name in sorted(there ^ {match.group(1) for match in names}):
        failures.append(Failure(f'{name} is not both there and described'))
    for match, after in zip(names, names[1:] + [None]):
        told = WAY_OUT.findall(text[match.end():after.start() if after else None])
        status, lines = place.run(f'notch fit data/designs/{match.group(1)}')
        found = LISTED.findall('\n'.join(lines))
        if status or told != found or not told:
            failures.append(Failure(f'{match.group(1)}: {told} is said, and {found} printed'))
        done += 1
    return done, failures


def main():
    which, source, build = sys.argv[1:]
    with tempfile.TemporaryDirectory(prefix='notch-documents-') as folder:
        place = Place(folder, os.path.abspath(source), os.path.abspath(build))
        document, least = {'readme': (try_readme, 14), 'manual': (try_manual, 18),
                           'designs': (try_designs, 5)}[which]
        done, failures = document(place, source)
    for failure in failures:
        print('FAILED:', failure)
    if done < least:
        print(f'FAILED: only {done} commands were found')
    print(f'{done} commands run')
    sys.exit(bool(failures) or done < least)


if __name__ == '__main__':
    main()
