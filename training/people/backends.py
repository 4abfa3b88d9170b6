"""What a role may do in the admin."""

from django.contrib.auth.backends import BaseBackend

from . import sight

# People are never deleted, so that their records stay: see User.is_active.
STAFF_PERMISSIONS = frozenset(
    {
        "people.view_user",
        "people.add_user",
        "people.change_user",
        "people.view_group",
        "people.add_group",
        "people.change_group",
        "people.view_membership",
        "people.add_membership",
        "people.change_membership",
        "people.delete_membership",
    }
)
# Who looks after what: for staff who are held to no harbor.
WHOLE_FLEET_PERMISSIONS = frozenset(
    {
        "people.view_reach",
        "people.add_reach",
        "people.change_reach",
        "people.delete_reach",
    }
)


# Everybody's records, which the rooms above add: for them as well.
_records = set()


def show_records(*models):
    """Let staff who are held to no harbor look at all rows of ``models`` in the admin."""
    for model in models:
        _records.add(f"{model._meta.app_label}.view_{model._meta.model_name}")


class RoleBackend(BaseBackend):
    """Gives staff the permissions to maintain people and groups, and to see records."""

    def get_user_permissions(self, user_obj, obj=None):
        if not (user_obj.is_active and user_obj.is_authenticated and user_obj.is_staff):
            return set()
        if obj is not None:
            return set()
        if sight.harbors_of(user_obj) is None:
            return STAFF_PERMISSIONS | WHOLE_FLEET_PERMISSIONS | _records
        return set(STAFF_PERMISSIONS)

    def has_module_perms(self, user_obj, app_label):
        """Return whether ``user_obj`` may do anything in the app ``app_label``."""
        permissions = self.get_all_permissions(user_obj)
        return any(permission.startswith(f"{app_label}.") for permission in permissions)
