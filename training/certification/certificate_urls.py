from django.urls import path

from training.deck.downloads import both

from . import badge_views, certificate_views, exam_views
from .fair import check_views, meaning_views

app_name = "certificates"

urlpatterns = [
    path("certificates/", certificate_views.mine, name="mine"),
    path("certificates/issued/", certificate_views.issued, name="issued"),
    path("certificates/<slug:code>/", certificate_views.certificate, name="certificate"),
    path("certificates/<slug:code>/certificate.png", certificate_views.png, name="png"),
    path("certificates/<slug:code>/certificate.pdf", certificate_views.pdf, name="pdf"),
    path("certificates/<slug:code>/badge.jwt", badge_views.token, name="badge_token"),
    path("certificates/<slug:code>/badge.json", badge_views.document, name="badge_document"),
    path("certificates/<slug:code>/name/", certificate_views.show_name, name="show_name"),
    path("certificates/<slug:code>/changes/", certificate_views.changes, name="changes"),
    path("certificates/<slug:code>/check/", check_views.check, name="check"),
    path("certificates/<slug:code>/revoke/", certificate_views.revoke, name="revoke"),
    path(
        "certificates/<slug:code>/revoke/decide/",
        certificate_views.decide_revocation,
        name="decide_revocation",
    ),
    path("verify/", certificate_views.verify, name="verify"),
    path("verify/<slug:code>/", certificate_views.verify_code, name="verify_code"),
    path("what-it-means/", meaning_views.meanings, name="meanings"),
    path("what-it-means/<slug:slug>/", meaning_views.meaning, name="meaning"),
    path("issuer/", badge_views.issuer, name="issuer"),
    path("issuer/keys.json", badge_views.keys, name="keys"),
    path("issuer/keys/<slug:thumbprint>.json", badge_views.key, name="key"),
    path("issuer/revoked.json", badge_views.revoked, name="revoked"),
    path("measure/", exam_views.measures, name="measures"),
    path("measure/<slug:slug>/", exam_views.measure, name="measure"),
    *both("measure/<slug:slug>/figures", exam_views.figures_table, "measure"),
    path("measure/<slug:slug>/pass-mark/", exam_views.angoff, name="angoff"),
    path("measure/<slug:slug>/sample/<int:part>/<int:number>/", exam_views.sample, name="sample"),
]
