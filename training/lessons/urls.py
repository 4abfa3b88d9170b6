app_name = "lessons"

urlpatterns = []
