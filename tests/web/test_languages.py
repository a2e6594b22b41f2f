"""Sheets of the workbench in the shop's language, and in the other one for whoever asks."""

from starlette.testclient import TestClient

FIT = "/fit/kestrin-fallow/rookery-4"
CAR = "car.year=2013&car.body=sedan&car.engine=2.4&car.trim=base"


def test_a_sheet_comes_in_the_language_that_is_asked_for(demo: TestClient) -> None:
    english = demo.get(f"{FIT}/guide.html?{CAR}").text
    french = demo.get(f"{FIT}/guide.html?{CAR}&language=fr").text
    assert '<html lang="en"' in english
    assert '<html lang="fr"' in french
    assert "Guide de montage" in french
    assert "Partie A" in demo.get(f"{FIT}/guide.html?{CAR}&language=fr").text  # kept apart from the English one


def test_the_page_of_the_fit_leads_to_it(demo: TestClient) -> None:
    page = demo.get(f"{FIT}?{CAR}").text
    assert 'hreflang="fr" lang="fr">français</a>' in page


def test_a_language_that_is_not_there_is_told(demo: TestClient) -> None:
    answer = demo.get(f"{FIT}/guide.html?{CAR}&language=de")
    assert answer.status_code == 404
    assert "There is no sheet in the language" in answer.text
    assert "en, fr" in answer.text
