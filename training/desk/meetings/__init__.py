"""Groups that meet: sessions planned, and a group watched while it signs up."""
