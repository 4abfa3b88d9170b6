"""The admin of this site: for administrators, to look at records and never to change them."""

from django.contrib import admin
from django.utils.translation import gettext_lazy


class ReadOnlyAdmin(admin.ModelAdmin):
    """Shows records that nobody may change, since they must stay as they were given."""

    def has_add_permission(self, request):
        return False

    def has_change_permission(self, request, obj=None):
        return False

    def has_delete_permission(self, request, obj=None):
        return False


class RecordsSite(admin.AdminSite):
    """
    Django's admin for administrators alone.

    What staff may do is decided on the site's own pages: a second way to it would go round
    whom they look after, what takes two persons, and the mails about it.
    """

    site_header = gettext_lazy("Raised Footrope records")
    site_title = gettext_lazy("Raised footrope training")
    index_title = gettext_lazy("Records")

    def has_permission(self, request):
        return request.user.is_active and request.user.is_superuser

    def register(self, model_or_iterable, admin_class=None, **options):
        """Take in what is for looking alone: pages that libraries bring could change things."""
        if admin_class is not None and issubclass(admin_class, ReadOnlyAdmin):
            super().register(model_or_iterable, admin_class, **options)
