app_name = "fleet"

urlpatterns = []
