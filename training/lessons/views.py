from django.shortcuts import render


def home(request):
    """Show the way in."""
    return render(request, "base.html")
