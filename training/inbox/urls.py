"""The addresses of what phones sent later, and of which two versions there are."""

app_name = "inbox"

urlpatterns = []
