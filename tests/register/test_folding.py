"""What a vessel's events come to, whatever they are and in whatever order they are told."""

from datetime import UTC, date, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from training.register.folding import ORDER, Happening, Standing, fold, standing_of
from training.register.stages import Stage

DAY = date(2026, 7, 1)
MOMENT = datetime(2026, 7, 1, 12, tzinfo=UTC)


def happenings(*told):
    """Return events from (stage, days after DAY), recorded in that order."""
    return [
        Happening(pk, stage, DAY + timedelta(days), MOMENT + timedelta(minutes=pk))
        for pk, (stage, days) in enumerate(told, 1)
    ]


@st.composite
def histories(draw):
    """Draw events of one vessel, some of them corrections and withdrawals of earlier ones."""
    found, free = [], []
    for pk in range(1, draw(st.integers(0, 12)) + 1):
        corrects = draw(st.sampled_from([None, *free])) if free else None
        withdrawal = corrects is not None and draw(st.booleans())
        found.append(
            Happening(
                pk,
                draw(st.sampled_from(list(Stage))),
                DAY + timedelta(draw(st.integers(0, 6))),
                MOMENT + timedelta(minutes=draw(st.integers(0, 3))),
                corrects,
                withdrawal,
            )
        )
        free = [each for each in free if each != corrects] + [pk]
    return found


class TestExamples:
    def test_nothing_happened(self):
        assert fold([]) == Standing()

    def test_the_furthest_stage_counts(self):
        found = fold(happenings((Stage.TOLD, 0), (Stage.CREWED, 3), (Stage.TRAINING, 5)))
        assert (found.stage, found.since) == (Stage.CREWED, DAY + timedelta(3))
        assert found.first_contact == DAY
        assert found.last_event == DAY + timedelta(5)
        assert [move.entered for move in found.moves] == [Stage.TOLD, Stage.CREWED]

    def test_the_day_decides_and_not_when_it_was_recorded(self):
        found = fold(happenings((Stage.CONVERTED, 9), (Stage.TOLD, 0)))
        assert (found.first_contact, found.converted) == (DAY, DAY + timedelta(9))
        assert len(found.moves) == 2

    def test_going_back_takes_it_out(self):
        found = fold(happenings((Stage.CONVERTED, 1), (Stage.BACK, 4), (Stage.CHECKED, 6)))
        assert (found.stage, found.since) == (Stage.BACK, DAY + timedelta(4))
        assert found.went_back == DAY + timedelta(4)
        assert found.converted == DAY + timedelta(1)

    def test_only_fishing_without_a_sweep_brings_it_back_in(self):
        found = fold(
            happenings(
                (Stage.CONVERTED, 1), (Stage.BACK, 4), (Stage.PLANNED, 5), (Stage.CONVERTED, 8)
            )
        )
        assert (found.stage, found.since) == (Stage.CONVERTED, DAY + timedelta(8))
        assert found.converted == DAY + timedelta(1)

    def test_a_correction_stands_for_what_it_corrects(self):
        first, second = happenings((Stage.CONVERTED, 1), (Stage.CHECKED, 2))
        found = fold([first, second._replace(corrects=first.pk)])
        assert (found.stage, found.converted) == (Stage.CHECKED, None)

    def test_a_withdrawal_leaves_nothing(self):
        first, second = happenings((Stage.CONVERTED, 1), (Stage.CONVERTED, 1))
        assert fold([first, second._replace(corrects=first.pk, is_withdrawal=True)]) == Standing()

    def test_a_withdrawal_can_be_corrected_in_its_turn(self):
        first, second, third = happenings((Stage.TOLD, 1), (Stage.TOLD, 1), (Stage.TOLD, 2))
        second = second._replace(corrects=first.pk, is_withdrawal=True)
        found = fold([first, second, third._replace(corrects=second.pk)])
        assert (found.stage, found.since) == (Stage.TOLD, DAY + timedelta(2))


class TestAnyHistory:
    @given(histories(), st.randoms(use_true_random=False))
    def test_the_order_of_telling_makes_no_difference(self, told, rng):
        shuffled = list(told)
        rng.shuffle(shuffled)
        assert fold(shuffled) == fold(told)

    @given(histories())
    def test_what_is_corrected_makes_no_difference(self, told):
        kept = standing_of(told)
        # The same vessel with the mistakes never made.
        assert fold(told) == fold(each._replace(corrects=None) for each in kept)

    @given(histories())
    def test_moves_lead_from_the_first_contact_to_the_stage(self, told):
        found = fold(told)
        assert bool(found.moves) == bool(standing_of(told))
        at = ""
        for move in found.moves:
            assert move.left == at
            at = move.entered
        assert at == found.stage
        if found.moves:
            assert found.moves[0].day == found.first_contact
            assert found.moves[-1].day == found.since
            assert [move.day for move in found.moves] == sorted(move.day for move in found.moves)

    @given(histories())
    def test_moves_go_forward_save_into_and_out_of_back(self, told):
        for move in fold(told).moves:
            if move.left == Stage.BACK:
                assert move.entered == Stage.CONVERTED
            elif move.left:
                assert ORDER[move.entered] > ORDER[move.left]

    @given(histories())
    def test_adding_what_holds_already_changes_nothing(self, told):
        found = fold(told)
        if found.moves:
            late = MOMENT + timedelta(days=1)
            again = Happening(99, found.stage, found.since, late)
            assert fold([*told, again]) == found
