"""How far a vessel has come with the raised footrope, step by step."""

from django.db import models


class Stage(models.TextChoices):
    """
    The stages of adoption in their order; the words are what staff can rename.

    A vessel is at the furthest stage that it has reached. Going back to the sweep takes
    it out of them, and only fishing without a sweep again brings it back in.
    """

    TOLD = "told", "talked to"
    TRAINING = "training", "in training"
    CREWED = "crewed", "crew member certified"
    PLANNED = "planned", "net planned"
    CHECKED = "checked", "check sheet on file"
    CONVERTED = "converted", "fishing without a sweep"
    BACK = "back", "back to a sweep"


class Known(models.TextChoices):
    """How an event in a vessel's way is known."""

    HAND = "hand", "staff were told"
    CREW = "crew", "crew signed up here"
    CERTIFICATE = "certificate", "certificate of a crew member"
    PLAN = "plan", "plan of a net"
    SHEET = "sheet", "check sheet"
    REGISTER = "register", "imported register"
