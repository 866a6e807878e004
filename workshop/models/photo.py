from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _


class Photo(models.Model):
    """A picture somebody took, kept small and upright, without the place it was taken at; see `workshop.photos`."""

    file_name = models.CharField(max_length=80, unique=True)
    pixels_across = models.PositiveIntegerField()
    pixels_down = models.PositiveIntegerField()
    size_bytes = models.PositiveIntegerField()
    taken_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    added_at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]
        verbose_name = _("photo")

    def __str__(self) -> str:
        return self.file_name
