app_name = "exercises"

urlpatterns = []
