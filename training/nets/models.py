"""People's own nets and what their tows showed."""

from datetime import date

from django.conf import settings
from django.db import models, transaction
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy

from rigs import plan, tuning
from rigs.physics.tow import BOTTOMS, UNKNOWN
from rigs.plan import entry
from rigs.tuning.log import PLACE_NAMES
from rigs.words.days import long_day
from training.people import sight

SHINE = {place: f"shine_{name.replace(' ', '_')}" for place, name in PLACE_NAMES.items()}
"""The entry that holds the shine at each place."""

WATER, GROUND = "water", "ground"
"""What the speed of a tow was read over, as the entry ``speed_over`` has it."""


class KeptQuerySet(models.QuerySet):
    """Rows that are put aside when deleted, so that deleting can be undone."""

    def there(self):
        return self.filter(deleted=None)

    def put_aside(self):
        return self.exclude(deleted=None)


class Kept(models.Model):
    """
    A row with a key that its form made up, which deleting puts aside.

    The key makes creating idempotent: the same form sent twice makes one row.
    """

    key = models.UUIDField(editable=False)
    created = models.DateTimeField(default=timezone.now, editable=False)
    changed = models.DateTimeField(auto_now=True)
    deleted = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        abstract = True

    def put_aside(self):
        """Delete, in such a way that it can be undone."""
        if self.deleted is None:
            self.deleted = timezone.now()
            self.save(update_fields=["deleted", "changed"])

    def put_back(self):
        """Undo deleting."""
        self.deleted = None
        self.save(update_fields=["deleted", "changed"])


class Entered(Kept):
    """What a person entered, as typed and in SI."""

    typed = models.JSONField(gettext_lazy("as typed"), default=dict)
    measures = models.JSONField(gettext_lazy("in SI"), default=dict)

    class Meta:
        abstract = True


@sight.rule(own="owner")
class Net(Entered):
    """
    One person's net as it is now, and what it is to be converted for.

    ``goal`` names a rule set; ``typed`` and ``measures`` hold the entries of NetForm.
    """

    owner = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="nets")
    name = models.CharField(max_length=80)
    goal = models.CharField(gettext_lazy("rule set"), max_length=40)

    objects = KeptQuerySet.as_manager()

    class Meta:
        ordering = ["-changed", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["owner", "key"], name="one_net_for_one_form")
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("nets:net", args=[self.pk])

    @property
    def told(self):
        """All that the plan is made from, for a tow to keep."""
        return {"goal": self.goal, "measures": self.measures}

    def present(self):
        """Return the rig as it is now."""
        return entry.rig(self.measures)

    def plan(self, on=None):
        """Return the plan.Plan of its conversion by the rules of the date ``on``, or today's."""
        on = on or timezone.localdate()
        book, fishery = plan.books_for(self.goal, on)
        present = self.present()
        return plan.plan(present, book, entry.choices(self.measures, present, book), fishery, on)

    def next_tow(self, day):
        """Return what the form of a tow on ``day`` starts with, from the tow before it."""
        last = self.tows.there().last()
        if last is None:
            return {}
        start = {name: last.typed.get(name, "") for name in ("speed_over", "basket_weight")}
        if last.day == day:
            start |= {name: last.typed.get(name, "") for name in ("ground", "bottom")}
            start["tow_number"] = (last.measures.get("tow_number") or 1) + 1
        return start

    def say_rigged(self, key, day):
        """Keep, once for the form of ``key``, that it was rigged on ``day`` as planned."""
        was = self.told | {"day": timezone.localdate().isoformat()}
        return self.riggings.get_or_create(key=key, defaults={"day": day, "was": was})[0]

    def rigged(self, on=None):
        """Return the Rigging that holds on the date ``on``, or now; None if there is none."""
        found = self.riggings.there()
        return (found if on is None else found.filter(day__lte=on)).last()

    def towed(self, on):
        """
        Return what a tow on the date ``on`` is made with, for it to keep.

        That is the net as it was rigged by then, or as it is planned if nobody said so.
        """
        rigging = self.rigged(on)
        return self.told if rigging is None else rigging.was

    def copy(self, key):
        """Return the copy of this net made under ``key``, making it if it is not there yet."""
        with transaction.atomic():
            twin, _ = Net.objects.get_or_create(
                owner=self.owner,
                key=key,
                defaults={
                    "name": f"{self.name[:66]} (copy)",
                    "goal": self.goal,
                    "typed": self.typed,
                    "measures": self.measures,
                },
            )
        return twin


def planned_of(was, on):
    """Return the rig that ``was``, a Net's ``told``, is planned to be by the rules of ``on``."""
    day = date.fromisoformat(was["day"]) if "day" in was else on
    return Net(goal=was["goal"], measures=was["measures"]).plan(day).planned


@sight.rule(own="net__owner")
class Rigging(Kept):
    """
    A net's owner says that it was rigged as planned on a day; nobody checked it.

    ``was`` is what the plan was made from (``told``) and the ``day`` of the rules it followed,
    so that a later change of the net, or of the rules, leaves what hangs as it is.
    """

    net = models.ForeignKey(Net, models.CASCADE, related_name="riggings")
    day = models.DateField(gettext_lazy("day it was rigged"))
    was = models.JSONField(gettext_lazy("plan it was rigged by"))

    objects = KeptQuerySet.as_manager()

    class Meta:
        ordering = ["day", "created", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["net", "key"], name="one_rigging_for_one_form")
        ]

    def __str__(self):
        return f"{self.net}, {long_day(self.day)}"

    def rig(self):
        """Return the rig that was planned, and is said to hang."""
        return planned_of(self.was, self.day)


@sight.rule(own="net__owner")
class Tow(Entered):
    """
    One tow of a net: speed, shine along the footrope, catch.

    ``measures`` holds the entries of TowForm. ``net_was`` is what the rig that was towed
    follows from (goal, measures and, if it was said to be rigged, the day of the rules it was
    planned by), so that a later change of the net leaves what this tow showed as it is.
    """

    net = models.ForeignKey(Net, models.CASCADE, related_name="tows")
    day = models.DateField()
    net_was = models.JSONField()

    objects = KeptQuerySet.as_manager()

    class Meta:
        ordering = ["day", "created", "pk"]
        constraints = [models.UniqueConstraint(fields=["net", "key"], name="one_tow_for_one_form")]

    def __str__(self):
        return f"{self.net}, {long_day(self.day)}"

    @property
    def entries(self):
        """What TowForm starts with to change it."""
        return {"speed_over": WATER} | self.typed | {"key": self.key, "day": self.day}

    @property
    def is_over_ground(self):
        """Whether its speed was read over the ground; before there was a choice it never was."""
        return self.measures.get("speed_over") == GROUND

    @property
    def through_water(self):
        """Its speed as tuning.ThroughWater."""
        told = self.measures
        if not self.is_over_ground:
            return tuning.ThroughWater(told["speed"])
        return tuning.through_water(told["speed"], told.get("tide") or "", told.get("tide_speed"))

    @property
    def is_by_baskets(self):
        """Whether its catch was counted in baskets and not weighed."""
        return self.measures.get("catch_target") is None and bool(self.measures.get("baskets"))

    @property
    def catch(self):
        """
        The catch as a tuning.Catch, or None if it was neither weighed nor counted.

        Of baskets alone it is their number times what a full one weighs.
        """
        told = self.measures
        if self.is_by_baskets:
            full, bottom = told["basket_weight"], told["bottom_baskets"]
            count = told["baskets"]
            return tuning.Catch((count - bottom) * full, bottom * full, 0.0, bottom, count)
        if told.get("catch_target") is None:
            return None
        return tuning.Catch(
            told["catch_target"],
            told["catch_bottom"],
            told.get("catch_other") or 0.0,
            told.get("bottom_baskets"),
            told.get("baskets"),
        )

    @property
    def made_with(self):
        """What its rig follows from: the net as it was and the rule sets it was planned by."""
        day = self.net_was.get("day")
        on = self.day if day is None else date.fromisoformat(day)
        return self.net_was, plan.books_for(self.net_was["goal"], on)

    def rig(self):
        """Return the rig that was towed, as planned from the net of that day."""
        return planned_of(self.net_was, self.day)

    def read(self, rig):
        """Return this tow as a tuning.Tow."""
        shine = {place: self.measures.get(field) for place, field in SHINE.items()}
        return tuning.Tow(
            speed=self.through_water.speed,
            speed_spread=self.through_water.spread,
            shine={place: metres for place, metres in shine.items() if metres is not None},
            catch=self.catch,
            rig=rig,
            label=f"{self.day:%b} {self.day.day}",
            bottom=BOTTOMS.get(self.measures.get("bottom"), UNKNOWN),
        )


@sight.rule(own="net__owner")
class SeaCard(models.Model):
    """
    What changes do to a net in flight, worked out beforehand to be taken along.

    ``rows`` are as ``rigs.tuning.card`` makes them, ``rests_on`` is what they rest on, to be
    compared: a net or a log that was changed since has no card that holds.
    """

    net = models.OneToOneField(Net, models.CASCADE, related_name="card")
    rests_on = models.CharField(max_length=64)
    rows = models.JSONField(gettext_lazy("what changes do"), default=list)
    made = models.DateTimeField(default=timezone.now, editable=False)

    def __str__(self):
        return f"{self.net}: {self.made:%Y-%m-%d}"
