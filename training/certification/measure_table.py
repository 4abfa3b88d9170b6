"""The figures of an exam as rows to download."""

from django.utils.translation import gettext as _

from rigs.words.say import gettext_lazy

DECIMALS = 4

HEADER = (
    "of",
    gettext_lazy("level"),
    "rule",
    gettext_lazy("points it weighs"),
    "people",
    gettext_lazy("average score"),
    gettext_lazy("fits the rest"),
    "reliability",
    "from",
    "to",
    gettext_lazy("if all weighed the same"),
    gettext_lazy("how it weighs"),
)


def _figure(value):
    return None if value is None else round(value, DECIMALS)


def rows(pool, report, items):
    """
    Yield rows as in HEADER: of the whole exam, then of each question of ``pool``.

    ``report`` is the ExamReport of ``pool`` and ``items`` are its ItemReports.
    """
    low, high = report.feldt or (None, None)
    yield (
        _("the whole exam"),
        None,
        None,
        float(pool.out_of.sum()),
        report.candidates,
        _figure(report.mean),
        None,
        _figure(report.reliability),
        _figure(low),
        _figure(high),
        _figure(report.equal),
        " ".join((f"{report.reliability_name}.", *report.weighed)),
    )
    for each, points in zip(items, pool.out_of, strict=True):
        yield (
            each.item.kind,
            each.item.difficulty,
            each.item.rule,
            float(points),
            each.answers,
            _figure(each.difficulty),
            _figure(each.discrimination),
            *(None,) * 5,
        )
