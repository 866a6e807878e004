from django.apps import AppConfig


class MaterialsConfig(AppConfig):
    name = "materials"
    default_auto_field = "django.db.models.BigAutoField"
