from django.contrib.admin.apps import AdminConfig


class OwnAdminConfig(AdminConfig):
    """Has Django's admin be the site's own; apart, for it is read before there are models."""

    default_site = "training.people.admin_site.OwnAdmin"
