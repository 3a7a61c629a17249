"""How hard a design is, and the log of who tried it: the measures come with the search; two trials
are noted, one is edited, both are dots of the plot; the log is saved as a table, and is there when
the program is started again.

The figures are those of Ember Lantern, chipped in data/designs/README.md: four assemblies, two of
them unreachable, level 4, ten slides."""

import csv
import os
import sys
import time

from driver import Workbench, is_enabled, text_of, wait

SHOTS = sys.argv[1] if len(sys.argv) > 1 else None
TITLE = 'Difficulty and Trials of “%s”'
LANTERN, CHEST = 'Ember Lantern, chipped', 'Tide Chest'
SENTENCE = 'The log stays on this machine, in your store; nothing is sent anywhere.'


def shoot(bench, name):
    if SHOTS:
        time.sleep(0.4)
        bench.shoot(os.path.join(SHOTS, name + '.png'))


def open_dialog(bench, design):
    bench.key('ctrl+d')
    bench.x_window(TITLE % design)
    return bench.find(TITLE % design, 'frame')


def close_dialog(bench, design):
    bench.key('Escape')
    bench.closed(TITLE % design)


def measures(bench, dialog):
    """Nothing is made up before the search is complete; then every measure is there."""
    bench.says('^Search the design first', dialog)
    shoot(bench, 'not-known')
    bench.press('Search', within=dialog)
    bench.says('^Measured of the intended assembly, with 10000 random samples and seed 1', dialog, 60)
    for text in ('Assemblies that fit', 'Levels', 'Slides in all', 'Pieces tried in a blind search'):
        bench.find(text, 'label', dialog)
    wait(lambda: bench.look(r'.* ± .* \(10000 samples, \d+ of them complete\)', 'label', dialog),
         'the estimate')
    values = [text_of(thing) for thing in bench.look_all('4|2|10|4·.*', 'label', dialog)]
    assert values[:4] == ['4', '2', '4·1·2·2·1', '10'], values
    shoot(bench, 'measures')


def go_to(bench, dialog, page):
    bench.click(bench.find(page, 'page tab', dialog))


def fill(bench, title, who=None, minutes=None, gave_up=False, remark=None):
    bench.x_window(title)
    form = bench.find(title, 'frame')
    if who is not None:
        bench.replace(bench.find('Who', 'text', form), who)
    if minutes is not None:
        bench.replace(bench.find('Minutes', 'spin button', form), minutes)
    if gave_up:
        bench.click(bench.find('Gave Up', 'check box', form))
    if remark is not None:
        bench.replace(bench.find('Remark', 'text', form), remark)
    return form


def add(bench, dialog):
    bench.find('No Trials Yet', 'label', dialog)
    bench.find(SENTENCE, 'label', dialog)
    bench.press('Add a Trial…', within=dialog)
    form = fill(bench, 'New Trial', who='Ann')
    bench.press('Add', within=form)
    bench.says('^Enter the minutes, or choose', form)
    assert text_of(bench.find('Who', 'text', form)) == 'Ann', 'what was typed is lost'
    bench.replace(bench.find('When', 'text', form), 'some day')
    bench.replace(bench.find('Minutes', 'spin button', form), '12.5')
    bench.press('Add', within=form)
    bench.says('^“some day” is not a valid time; write 2026-03-01', form)
    bench.replace(bench.find('When', 'text', form), '2026-03-01 14:30')
    bench.replace(bench.find('Remark', 'text', form), 'sat still, then ran')
    shoot(bench, 'form')
    bench.press('Add', within=form)
    bench.closed('New Trial')
    bench.find('12.5 min', within=dialog)
    bench.press('Add a Trial…', within=dialog)
    form = fill(bench, 'New Trial', who='Bo', minutes='40', gave_up=True)
    bench.replace(bench.find('When', 'text', form), '2026-03-02 10:00')
    bench.press('Add', within=form)
    bench.closed('New Trial')
    bench.find('gave up, 40 min', within=dialog)


def edit(bench, dialog):
    button = bench.find('Edit…', 'push button', dialog)
    assert not is_enabled(button), 'nothing is chosen yet'
    bench.click(bench.find('Ann', within=dialog))
    bench.press('Edit…', within=dialog)
    form = fill(bench, 'Edit the Trial', minutes='15')
    bench.press('Save', within=form)
    bench.closed('Edit the Trial')
    bench.find('15 min', within=dialog)
    bench.gone('12.5 min', within=dialog)
    shoot(bench, 'trials')


def plot(bench, dialog):
    go_to(bench, dialog, 'Plot')
    chart = bench.find('Times of trials against: Slides in all', 'image', dialog)
    bench.tells(chart, r'^2 dots\. Ember Lantern, chipped \(10\): 2 trials, 15 to 40 minutes\.$')
    shoot(bench, 'plot')
    bench.choose(bench.find('Plot minutes against', 'combo box', dialog), 'Level')
    chart = bench.find('Times of trials against: Level', 'image', dialog)
    bench.tells(chart, r'^2 dots\. Ember Lantern, chipped \(4\)')


def save_as(bench, title, path):
    bench.x_window(title)
    bench.key('ctrl+a')
    bench.type(path)
    bench.key('Return')
    wait(lambda: os.path.exists(path) and os.path.getsize(path), path)


def export(bench, dialog):
    path = os.path.join(os.environ['NW_HOME'], 'trials.csv')
    bench.press('Save Plot…', within=dialog)
    picture = os.path.join(os.environ['NW_HOME'], 'trials.svg')
    save_as(bench, 'Save the plot as PDF or SVG', picture)
    with open(picture, encoding='utf-8') as file:
        assert '<svg' in file.read()
    bench.closed('Save the plot as PDF or SVG')
    go_to(bench, dialog, 'Trials')
    bench.press('Export as CSV…', within=dialog)
    save_as(bench, 'Save the trials as a table', path)
    bench.closed('Save the trials as a table')
    with open(path, newline='', encoding='utf-8') as file:
        rows = list(csv.DictReader(file))
    assert [(row['who'], row['minutes'], row['gave_up'], row['remark']) for row in rows] == [
        ('Ann', '15', 'no', 'sat still, then ran'), ('Bo', '40', 'yes', '')], rows


def remove(bench, dialog):
    bench.click(bench.find('Bo', within=dialog))
    bench.key('Delete')
    bench.says('^2026-03-02 10:00, Bo: gave up, 40 min')
    bench.key('alt+r')
    bench.gone('Bo', within=dialog)


def other_design(bench):
    """The trial of a design that was never searched is no dot, until the design is searched; the
    measures of the first one come from its search in the store."""
    bench.key('alt+Home')
    bench.click(bench.find(CHEST, 'table cell'))
    bench.says('^5 pieces$')
    dialog = open_dialog(bench, CHEST)
    go_to(bench, dialog, 'Trials')
    bench.press('Add a Trial…', within=dialog)
    form = fill(bench, 'New Trial', minutes='33')
    bench.press('Add', within=form)
    bench.closed('New Trial')
    bench.find('33 min', within=dialog)
    go_to(bench, dialog, 'Plot')
    bench.says('^1 design is not in the plot: it has no complete search or no such measure', dialog)
    chart = bench.find('Times of trials against: Slides in all', 'image', dialog)
    bench.tells(chart, r'^2 dots\. Ember Lantern, chipped \(10\): 2 trials')
    bench.key('F5')
    bench.tells(chart, r'^3 dots\. .* Tide Chest \(12\): 33 minutes\.$', 60)
    shoot(bench, 'two-designs')
    close_dialog(bench, CHEST)


with Workbench() as bench:
    bench.click(bench.find(LANTERN, 'table cell'))
    bench.says('^6 pieces$')
    dialog = open_dialog(bench, LANTERN)
    measures(bench, dialog)
    go_to(bench, dialog, 'Trials')
    add(bench, dialog)
    edit(bench, dialog)
    plot(bench, dialog)
    export(bench, dialog)
    close_dialog(bench, LANTERN)
    bench.quit()
with Workbench() as bench:
    bench.find('Complete', 'push button', bench.found)
    dialog = open_dialog(bench, LANTERN)
    bench.says(r' ± ', dialog)
    go_to(bench, dialog, 'Trials')
    bench.find('15 min', within=dialog)
    bench.find('gave up, 40 min', within=dialog)
    go_to(bench, dialog, 'Plot')
    bench.tells(bench.find('Times of trials against: Slides in all', 'image', dialog), '^2 dots')
    close_dialog(bench, LANTERN)
    other_design(bench)
    bench.key('alt+Home')
    bench.click(bench.find(LANTERN, 'table cell'))
    bench.says('^6 pieces$')
    dialog = open_dialog(bench, LANTERN)
    go_to(bench, dialog, 'Trials')
    remove(bench, dialog)
    close_dialog(bench, LANTERN)
    bench.quit()
