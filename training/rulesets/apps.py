from django.apps import AppConfig
from django.utils.translation import gettext_lazy

from rigs.rules import rulebook


class RuleSetsConfig(AppConfig):
    name = "training.rulesets"
    label = "rulesets"
    verbose_name = gettext_lazy("Rule sets")

    def ready(self):
        from . import counting, shelf  # noqa: F401  (the former registers itself)

        rulebook.add_source(shelf.approved)
