"""Groups that meet: the sessions a person is asked to, and their calendar."""
