from django.apps import AppConfig

from rigs.rules import rulebook


class RuleSetsConfig(AppConfig):
    name = "training.rulesets"
    label = "rulesets"
    verbose_name = "Rule sets"

    def ready(self):
        from . import shelf

        rulebook.add_source(shelf.approved)
