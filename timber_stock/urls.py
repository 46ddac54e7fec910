from django.urls import path

app_name = "timber_stock"

urlpatterns: list = []
