from django.apps import AppConfig


class JobsConfig(AppConfig):
    name = "jobs"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Let the rules register their verbs and what they tell the apps below."""
        from jobs import drawing_list, fire, giving, hours_batch, lead_times, line_shares, lot_rooms  # noqa: F401
