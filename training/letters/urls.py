from django.urls import path

from . import text_views, views

app_name = "letters"

urlpatterns = [
    path("", views.letters, name="letters"),
    path("write/", views.write, name="write"),
    path("<int:pk>/", views.letter, name="letter"),
    path("<int:pk>/send/", views.send_now, name="send_now"),
    path("<int:pk>/texted/<int:row>/", views.texted, name="texted"),
    path("texts/", text_views.all_texts, name="texts"),
    path("texts/new/", text_views.new_text, name="new_text"),
    path("texts/<slug:slug>/", text_views.change_text, name="change_text"),
    path("texts/<slug:slug>/remove/", text_views.remove_text, name="remove_text"),
]
