"""What a verdict says: law and custom apart, what is not measured, and what cannot be right."""

from dataclasses import replace

from rigs import rulebook
from rigs.judge import FAIL, judge
from rigs.units import INCH

from .rig_factory import make_rig

NO_SWEEP = rulebook.load("no-sweep")


def with_droppers(rig, **changes):
    return replace(rig, droppers=tuple(replace(each, **changes) for each in rig.droppers))


class TestCustom:
    """Droppers of 42 in on a net without a sweep: common practice, no source."""

    short = with_droppers(make_rig(NO_SWEEP), length=41 * INCH)

    def test_to_do_otherwise_breaks_nothing(self):
        verdict = judge(self.short, NO_SWEEP)
        assert verdict.legal is True
        assert verdict.failed == ()
        assert verdict.failed_keys == set()
        assert [each.key for each in verdict.off_custom] == ["dropper_length"]
        assert verdict.missed_keys == {"dropper_length"}

    def test_it_has_no_clause(self):
        (finding,) = judge(self.short, NO_SWEEP).customs
        assert finding.by_custom
        assert (finding.outcome, finding.clause) == (FAIL, "")

    def test_the_same_droppers_break_the_law_of_the_grate_fishery(self):
        book = rulebook.load("grate")
        verdict = judge(with_droppers(make_rig(book), length=41 * INCH), book)
        assert verdict.failed_keys == {"dropper_length"}
        assert verdict.off_custom == ()

    def test_not_measured_it_leaves_a_rig_legal(self):
        verdict = judge(with_droppers(make_rig(NO_SWEEP), length=None), NO_SWEEP)
        assert verdict.legal is True
        assert verdict.not_measured == ()

    def test_every_finding_is_told_once(self):
        for rig in (make_rig(NO_SWEEP), self.short, replace(self.short, droppers=None)):
            verdict = judge(rig, NO_SWEEP)
            groups = (verdict.failed, verdict.passed, verdict.not_measured, verdict.customs)
            assert sorted(f.key for group in groups for f in group) == sorted(
                f.key for f in verdict.findings
            )
