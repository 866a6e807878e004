from jobs.models import Client
from workshop.forms import RowForm


class ClientForm(RowForm):
    class Meta:
        model = Client
        fields = ["name", "contact", "phone", "email", "address"]
