from django.contrib import admin
from django.contrib.auth import views as auth
from django.contrib.auth.decorators import login_not_required
from django.urls import include, path

from restoration.config.health import health
from restoration.forms.sign_in import AdminSignInForm, SignInForm
from restoration.views.service_worker import service_worker

sign_in = auth.LoginView.as_view(template_name="sign_in.html", authentication_form=SignInForm)
admin.site.login_form = AdminSignInForm

urlpatterns = [
    path("sign-in/", sign_in, name="sign_in"),
    path("sign-out/", auth.LogoutView.as_view(), name="sign_out"),
    path("health/", login_not_required(health), name="health"),
    # At the root, because a script of this kind only stands before what lies below it.
    path("service-worker.js", service_worker, name="service_worker"),
    path("admin/", admin.site.urls),
    path("timber/", include("timber_stock.urls")),
    path("", include("restoration.urls")),
]
