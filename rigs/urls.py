app_name = "rigs"

urlpatterns = []
