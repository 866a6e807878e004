from django.urls import path

from workshop.front import health, work
from workshop.front.views import doors, people, photos, today, trace

app_name = "front"
urlpatterns = [
    path("", today.today, name="today"),
    path("find/", today.find, name="find"),
    path("more/", today.more, name="more"),
    path("key/", today.key, name="key"),
    path("health", health.health, name="health"),
    path("first-start/", doors.first_start_page, name="first_start"),
    path("login/", doors.Login.as_view(), name="login"),
    path("logout/", doors.Logout.as_view(), name="logout"),
    path("shop/", people.shop_page, name="shop"),
    path("people/", people.person_list, name="people"),
    path("people/new/", people.person_new, name="person_new"),
    path("people/<int:pk>/", people.person_edit, name="person"),
    path("password/", people.password, name="password"),
    path("actions/<int:pk>/undo/", trace.undo, name="undo"),
    path("trace/<str:thing>/", trace.trace, name="trace"),
    path("backups/", work.backup_list, name="backups"),
    path("work/<int:pk>/", work.work_page, name="work"),
    path("work/<int:pk>/cancel/", work.cancel_work, name="work_cancel"),
    path("photos/<int:pk>/", photos.photo, name="photo"),
]
