"""
Where rooms have their settings checked: ``manage.py check --deploy --tag settings``.

A check is a generator of Django's own messages, put under the name of its setting::

    @of_setting("OFFICE_NAME")
    def office_has_a_name():
        if not settings.OFFICE_NAME:
            yield Warning(_("Certificates name no office."), hint=_("Set OFFICE_NAME to ..."))

An Error is what fails or is not safe in use, a Warning what somebody may want so. The
module of the checks is imported by ``ready`` of the app.
"""

from functools import update_wrapper

from django.core.checks import register, run_checks

SETTINGS = "settings"
"""The tag under which they are."""


def of_setting(name, always=False):
    """
    Return the decorator that registers a check of the setting ``name``.

    It runs where the site is to be served to others (``--deploy``); with ``always`` before
    each command as well. What it finds can be silenced as ``settings.NAME``.
    """

    def decorator(find):
        def check(app_configs=None, **kwargs):
            found = list(find())
            for message in found:
                message.id = f"settings.{name}"
            return found

        update_wrapper(check, find)
        # Django looks at the arguments of what it is given.
        del check.__wrapped__
        register(check, SETTINGS, deploy=not always)
        return check

    return decorator


def wrong_settings():
    """Return what is wrong with the settings for a site in use, silenced messages left out."""
    found = run_checks(tags=[SETTINGS], include_deployment_checks=True)
    return [message for message in found if not message.is_silenced()]
