"""The addresses of what is taken to sea; the worker stands at the root, to reach every page."""

app_name = "sea"

urlpatterns = []
