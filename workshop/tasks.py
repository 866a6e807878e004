from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django_tasks import task

from workshop import backups, work
from workshop.models import Work


@task()
def run_work(work_id: int) -> None:
    work.run(work_id)


@work.kind("backup", queue="documents", words=gettext_lazy("Backup"))
def back_up(_piece: Work) -> dict:
    path = backups.make("by-hand")
    return {"words": _("%(file)s lies in the folder backups.") % {"file": path.name}}
