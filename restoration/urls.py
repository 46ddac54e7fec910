from django.urls import path

from restoration.views import account, home

app_name = "restoration"

urlpatterns = [
    path("", home.home, name="home"),
    path("account/", account.account, name="account"),
    path("yard/", account.yard, name="yard"),
    # Vessels and members
    # Surveys and findings
    # Replacements and allotments
    # The thread
    # Reports
]
