"""Who has read what."""

from django.conf import settings
from django.db import models, transaction
from django.utils import timezone
from django.utils.translation import gettext_lazy


class LessonReadManager(models.Manager):
    def note(self, user, slug):
        """
        Return the record that ``user`` has read the lesson ``slug``, made if need be.

        Said twice, even at the same moment, it stays one record with the first time.
        """
        with transaction.atomic():
            return self.get_or_create(user=user, slug=slug)[0]


class LessonRead(models.Model):
    """One person has read one lesson, and said so."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="lessons_read")
    slug = models.SlugField(gettext_lazy("lesson"), max_length=60)
    read_at = models.DateTimeField(default=timezone.now, editable=False)

    objects = LessonReadManager()

    class Meta:
        ordering = ["read_at", "pk"]
        verbose_name_plural = gettext_lazy("lessons read")
        constraints = [
            models.UniqueConstraint(fields=["user", "slug"], name="one_reading_each"),
        ]

    def __str__(self):
        return f"{self.user}: {self.slug}"
