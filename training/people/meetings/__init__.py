"""Groups that meet: sessions, their calendar, and watching people join."""
