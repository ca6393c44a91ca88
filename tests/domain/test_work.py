"""The meter: it ends work at a bound, is ended from outside, and counts what is kept as if it were worked out anew."""

import pytest

from service.domain.work import AbandonedError, Meter, TooCostlyError, kept, metered, part, spend


def test_a_bound_ends_the_work() -> None:
    """The step past the bound is refused, with the bound and what the step was for."""
    with metered(Meter(10)) as meter:
        spend(10, "chains")
        with pytest.raises(TooCostlyError, match="more than 10 steps") as refused:
            spend(1, "order")
    assert (refused.value.limit, refused.value.doing, meter.spent) == (10, "order", 11)


def test_without_a_bound_or_a_meter_nothing_ends() -> None:
    spend(1_000_000_000, "bills")
    with metered(Meter()) as meter:
        spend(1_000_000_000, "bills")
    assert meter.spent == 1_000_000_000


def test_an_abandoned_meter_ends_at_the_next_step() -> None:
    with metered(Meter()) as meter:
        spend(5, "bills")
        meter.abandon()
        with pytest.raises(AbandonedError):
            spend(1, "bills")


def test_what_is_kept_counts_as_if_it_were_worked_out() -> None:
    """The first time and again the same steps, nested values too, and the same end; each value once in a question."""
    worked: list[int] = []

    def inner(number: int) -> int:
        worked.append(number)
        spend(number, "chains")
        return number

    known = kept(10, inner)

    def outer(number: int) -> int:
        spend(1, "bills")
        return known(number) + known(number)

    known_outer = kept(10, outer)
    for _ in range(3):
        with metered(Meter(100)) as meter:
            assert known_outer(7) == 14
            known_outer(7)
        assert meter.spent == 8
        with metered(Meter(7)), pytest.raises(TooCostlyError):
            known_outer(7)
    assert worked == [7]


def test_a_value_counts_the_same_whatever_was_counted_before() -> None:
    """What another value is worked out from is counted in it, though the question has counted it for itself."""
    inner = kept(10, lambda number: spend(number, "chains"))
    outer = kept(10, inner)
    for _ in range(2):
        with metered(Meter()) as meter:
            inner(7)
            outer(7)
        assert meter.spent == 14


def test_a_part_that_takes_too_much_leaves_the_rest_to_the_others() -> None:
    with metered(Meter(100)) as meter:
        with pytest.raises(TooCostlyError), part(4):
            spend(26, "chains")
        assert meter.spent == 25
        with part(3):
            spend(5, "chains")
        with part(2):
            spend(35, "chains")
        with pytest.raises(TooCostlyError), part(1):
            spend(36, "chains")
        assert meter.spent == 100


def test_of_many_parts_each_may_take_a_fifth_while_there_is_one() -> None:
    with metered(Meter(100)) as meter:
        with part(50):
            spend(20, "chains")
        with pytest.raises(TooCostlyError), part(50):
            spend(21, "chains")
        assert meter.spent == 40


def test_a_question_abandoned_in_a_part_ends_behind_it() -> None:
    with metered(Meter(100)) as meter:
        with part(2):
            meter.abandon()
        with pytest.raises(AbandonedError):
            spend(1, "chains")


def test_without_a_bound_parts_have_none() -> None:
    with part(9):
        spend(10**9, "chains")
    with metered(Meter()), part(9):
        spend(10**9, "chains")


def test_what_ended_too_soon_is_not_kept() -> None:
    known = kept(10, lambda number: spend(number, "bills"))
    for _ in range(2):
        with metered(Meter(4)), pytest.raises(TooCostlyError):
            known(5)
    with metered(Meter(5)) as meter:
        known(5)
    assert meter.spent == 5


def test_a_cache_that_took_much_is_emptied() -> None:
    worked: list[int] = []

    def call(number: int) -> int:
        worked.append(number)
        spend(60, "bills")
        return number

    known = kept(10, call, most_steps=100)
    for number in (1, 1, 2, 2, 1):
        known(number)
    assert worked == [1, 2, 2, 1]
