from django.contrib import admin
from django.contrib.auth import views as auth
from django.contrib.auth.decorators import login_not_required
from django.urls import include, path

from restoration.config.health import health

urlpatterns = [
    path("sign-in/", auth.LoginView.as_view(template_name="sign_in.html"), name="sign_in"),
    path("sign-out/", auth.LogoutView.as_view(), name="sign_out"),
    path("health/", login_not_required(health), name="health"),
    path("admin/", admin.site.urls),
    path("timber/", include("timber_stock.urls")),
    path("", include("restoration.urls")),
]
