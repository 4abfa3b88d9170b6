"""How far the fleet has come, over time and by harbor and size."""

from django.http import Http404
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from rigs.words.say import gettext_lazy
from training.deck.downloads import table
from training.deck.figures import find, marked, png_of, table_of
from training.deck.plain import NO_HARBOR, listed
from training.people import sight

from . import conversion, conversion_figures, uptake_figures, uptake_rows, uptake_sums
from .models import Vessel
from .sizes import SIZES
from .uptake_forms import CompareForm, UptakeForm
from .wording import meanings, stage_words

COMPARED = (
    "group",
    gettext_lazy("vessels followed"),
    "converted",
    gettext_lazy("months until half have"),
    gettext_lazy("low end"),
    gettext_lazy("high end"),
)


def _is_demo(user):
    """Return whether any vessel that ``user`` looks after is invented."""
    return sight.rows(Vessel.objects.filter(is_demo=True), user).exists()


def _about(user, harbor="", size=""):
    """Return whose vessels are shown to ``user``, in words for a picture."""
    harbors = {harbor} if harbor else sight.harbors_of(user)
    told = [_("The whole fleet") if harbors is None else listed(sorted(harbors) or [NO_HARBOR])]
    told += [each.words for each in SIZES if each.key == size]
    return ", ".join(told)


def _charts(request):
    """Return (form, Cells, Figures, words of the stages) as the address asks for them."""
    words = stage_words()
    form = UptakeForm(request.GET or None, user=request.user, words=words)
    harbor, size, stage = form.chosen()
    today = timezone.localdate()
    sums = uptake_sums.uptake(request.user, today, harbor, size)
    daily = uptake_sums.day_by_day(request.user, today, harbor, size)
    cells = uptake_sums.counts(request.user, harbor, size)
    figures = [
        uptake_figures.stock(sums, daily, words),
        uptake_figures.flow(sums, today, words, stage),
    ]
    figures += [uptake_figures.compared(cells, field) for field in ("harbor", "size") if cells]
    about = _about(request.user, harbor, size)
    return form, cells, marked(figures, today, _is_demo(request.user), about), words


@never_cache
@sight.staff
@require_safe
def uptake(request):
    """Show how many vessels fish without a sweep, and how it came to that."""
    form, cells, figures, words = _charts(request)
    harbor, size, stage = form.chosen()
    context = {
        "form": form,
        "headline": uptake_sums.sentence(request.user, cells, harbor, size),
        "figures": figures,
        "meanings": meanings(words),
        "at_stages": uptake_rows.at_stages(request.user, words, harbor, size),
        "by": [
            (name, uptake_rows.by(cells, field, harbor, size))
            for field, name in (("harbor", _("Harbor")), ("size", _("Size of vessel")))
        ],
        "came": uptake_rows.came(request.user, stage, harbor, size),
        "stage": words[stage],
        "narrowed": bool(harbor or size),
        "is_demo": _is_demo(request.user),
    }
    return render(request, "register/uptake.html", context)


@never_cache
@sight.staff
@require_safe
def uptake_table(request, key, ending):
    """Download the table behind a chart, narrowed down as the page is, from the first month on."""
    return table_of(find(_charts(request)[2], key), ending)


@never_cache
@sight.staff
@require_safe
def uptake_png(request, key):
    """Download a chart as a picture."""
    return png_of(find(_charts(request)[2], key))


class _Waiting:
    """The curves that an address asks for, and what they were made from."""

    def __init__(self, request):
        self.form = CompareForm(request.GET or None)
        self.by = self.form.chosen()
        self.today, self.is_demo = timezone.localdate(), _is_demo(request.user)
        self.about = _about(request.user)
        self.found = conversion.conversion(request.user, self.today)
        self.names = {size.key: size.words for size in SIZES} if self.by == "size" else {}
        self.groups = conversion.groups(self.found.followed, self.by)

    @property
    def whole(self):
        """The Figure of all vessels, None if none was followed."""
        followed = self.found.followed
        return self._marked([conversion_figures.figure(followed)])[0] if followed else None

    @property
    def apart(self):
        return self._marked(conversion_figures.side_by_side(self.groups, self.names))

    def _marked(self, figures):
        return marked(figures, self.today, self.is_demo, self.about)

    @property
    def rows(self):
        return conversion_figures.compared_rows(self.groups, self.names)

    def find(self, key):
        """Return the Figure of the ``key``; else answer 404."""
        if self.whole is None:
            raise Http404(_("No vessel has been followed yet."))
        return find([self.whole, *self.apart], key)


@never_cache
@sight.staff
@require_safe
def waiting(request):
    """Show how long it takes from first contact to fishing without a sweep."""
    asked = _Waiting(request)
    context = {
        "form": asked.form,
        "whole": asked.whole,
        "apart": asked.apart,
        "by": dict(CompareForm.BY)[asked.by],
        "header": COMPARED,
        "rows": asked.rows,
        "met_converted": asked.found.met_converted,
        "left_out": max(0, len(asked.groups) - conversion_figures.MOST_CURVES),
        "is_demo": asked.is_demo,
    }
    return render(request, "register/waiting.html", context)


@never_cache
@sight.staff
@require_safe
def waiting_table(request, key, ending):
    """Download one curve as a table, or the groups beside each other as ``compared``."""
    asked = _Waiting(request)
    if key == "compared":
        return table(ending, "conversion-compared", COMPARED, asked.rows)
    return table_of(asked.find(key), ending)


@never_cache
@sight.staff
@require_safe
def waiting_png(request, key):
    """Download one curve as a picture."""
    return png_of(_Waiting(request).find(key))
