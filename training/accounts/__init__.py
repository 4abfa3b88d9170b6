"""Accounts as staff keep them: who may sign in, as what, for which harbors; invitations."""
