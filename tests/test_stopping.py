"""Ctrl-C: the first one ends searches with what they have, marked as not proved; a second one ends the program."""

import os
import signal
from dataclasses import replace
from threading import Thread, Timer
from time import sleep

import pytest
from ortools.sat.python import cp_model

from matcher.packing.solving import AbandonedError, Stop, abandon, ending, solve, stoppable, stopped
from matcher.planning.answering import plan
from matcher.report.document import plan_document
from matcher.studies.comparison import Stopped, compare
from tests.builders import HOUSE, cabinet, catalogue, drawer, organizer

ENDLESS = 1e6
"""More work than any test waits for."""


def hard_model(pieces=60, holes=25) -> cp_model.CpModel:
    """Quickly found, hardly proved: vectors of three sizes into fewest bins, 60 of them."""
    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in range(holes)]
    inside = [[model.new_bool_var("") for _ in range(holes)] for _ in range(pieces)]
    for row in inside:
        model.add_exactly_one(row)
    for at in range(holes):
        for axis in range(3):
            sizes = [(37 * (piece + 3) * (axis + 5)) % 41 + 10 for piece in range(pieces)]
            model.add(sum(size * row[at] for size, row in zip(sizes, inside, strict=True)) <= 100 * used[at])
    model.minimize(sum(used))
    return model


def press() -> None:
    os.kill(os.getpid(), signal.SIGINT)
    sleep(0.2)


def test_the_first_ctrl_c_ends_a_search_with_what_it_found_and_later_ones_at_once():
    heard = []
    late = Timer(1.5, press)
    with stoppable(lambda: heard.append("told")):
        late.start()
        answer = solve(hard_model(), ENDLESS, yielding=True)
        later = solve(hard_model(), ENDLESS, yielding=True)
        assert stopped()
    assert heard == ["told"]
    assert answer.status in ("feasible", "unknown")  # what it has by then, never a proof
    assert (later.status, later.value, later.bound) == ("unknown", None, None)
    assert not stopped()


def test_a_search_that_something_depends_on_is_not_stopped():
    with stoppable(lambda: None):
        press()
        answer = solve(hard_model(6, 4), ENDLESS)
    assert answer.status == "optimal"


def test_without_anybody_to_stop_it_softly_ctrl_c_ends_a_search_at_once():
    Timer(0.5, press).start()
    with pytest.raises(KeyboardInterrupt):
        solve(hard_model(), ENDLESS)


def pair() -> None:
    press()
    press()


def test_a_second_ctrl_c_ends_everything():
    with pytest.raises(KeyboardInterrupt), stoppable(lambda: None):
        pair()


def test_outside_of_it_ctrl_c_means_what_it_always_means():
    with stoppable(lambda: None):
        pass
    with pytest.raises(KeyboardInterrupt):
        press()


@pytest.fixture
def crowded():
    """Ten organizers, three of which must share: the drawers goal is searched, not matched."""
    organizers = [organizer(f"g{rank}", width=200, depth=300, family="f", tier=rank) for rank in range(10)]
    drawers = [drawer(f"{bank}{row}", bank, row, height=60) for bank in (1, 2) for row in range(1, 5)]
    return catalogue(organizers=organizers, cabinets=[cabinet(*drawers)])


def test_a_stopped_plan_is_checked_and_marked_as_not_proved(crowded):
    whole = plan(crowded, HOUSE, "set", "cabinet")
    assert whole.verdict == "fits"
    assert not whole.run.stopped
    with stoppable(lambda: None):
        press()
        found = plan(crowded, HOUSE, "set", "cabinet")
    assert found.run.stopped
    assert plan_document(found)["run"]["stopped"] is True
    assert found.verdict == "fits"  # the first plan is still looked for
    assert not all(goal.proved for goal in found.goals)
    assert [goal.name for goal in found.goals] == [goal.name for goal in whole.goals]
    better = next((one, other) for one, other in zip(found.goals, whole.goals, strict=True) if one.value != other.value)
    assert better[1].value < better[0].value  # where the two part, the whole search is ahead


def test_a_stopped_plan_that_needs_no_search_still_fits():
    # Every organizer has its own drawer by matching alone; what is left unproved is said to be so.
    organizers = [organizer(f"g{rank}", tier=9 - rank) for rank in range(4)]
    known = catalogue(organizers=organizers, cabinets=[cabinet(*(drawer(str(row), row=row) for row in range(1, 7)))])
    with stoppable(lambda: None):
        press()
        found = plan(known, HOUSE, "set", "cabinet")
    assert found.verdict == "fits"
    assert {goal.name: goal.proved for goal in found.goals}["drawers"]
    assert any(not goal.proved for goal in found.goals)
    assert found.fewest_free == 2


@pytest.mark.parametrize("after", [0, 0.5])
def test_work_ended_from_another_thread_has_no_answer(after):
    stop, raised = Stop(), []

    def work():
        with ending(stop):
            try:
                solve(hard_model(), ENDLESS)
            except AbandonedError:
                raised.append("ended")

    worker = Thread(target=work)
    if not after:
        stop.now.set()
    worker.start()
    sleep(after)
    stop.now.set()
    worker.join(20)
    assert raised == ["ended"]


def test_work_ended_soon_from_another_thread_has_the_plan_so_far(crowded):
    stop = Stop()
    stop.soon.set()
    with ending(stop):
        found = plan(crowded, HOUSE, "set", "cabinet")
    assert found.run.stopped
    assert found.verdict == "fits"


def test_a_comparison_ended_from_another_thread_tells_what_it_has(crowded):
    stop = Stop()

    def told(done, total, name):
        if done == 1:
            stop.now.set()
        abandon()

    two = replace(crowded, cabinets=(*crowded.cabinets, replace(crowded.cabinets[0], name="other")))
    with pytest.raises(Stopped) as ended, ending(stop):
        compare(two, HOUSE, "set", told=told)
    assert len(ended.value.so_far.variants) == 1
    assert ended.value.left == ("other",)
