"""How far a vessel has come with the raised footrope, step by step."""

from django.db import models

from rigs.words.say import gettext_lazy


class Stage(models.TextChoices):
    """
    The stages of adoption in their order; the words are what staff can rename.

    A vessel is at the furthest stage that it has reached. Going back to the sweep takes
    it out of them, and only fishing without a sweep again brings it back in.
    """

    TOLD = "told", gettext_lazy("talked to")
    TRAINING = "training", gettext_lazy("in training")
    CREWED = "crewed", gettext_lazy("crew member certified")
    PLANNED = "planned", gettext_lazy("net planned")
    CHECKED = "checked", gettext_lazy("check sheet on file")
    CONVERTED = "converted", gettext_lazy("fishing without a sweep")
    BACK = "back", gettext_lazy("back to a sweep")


class Known(models.TextChoices):
    """How an event in a vessel's way is known."""

    HAND = "hand", gettext_lazy("staff were told")
    CREW = "crew", gettext_lazy("crew signed up here")
    CERTIFICATE = "certificate", gettext_lazy("certificate of a crew member")
    PLAN = "plan", gettext_lazy("plan of a net")
    SHEET = "sheet", gettext_lazy("check sheet")
    REGISTER = "register", gettext_lazy("imported register")
