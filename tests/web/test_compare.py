"""The comparison over the web: reached from a card and from the list, refused without loss."""

import pytest

RUBY_SPINEL = "/materials/compare?with=ruby&with=red+spinel"


def test_what_separates_comes_before_what_does_not_and_the_properties_come_last(client):
    page = client.get(RUBY_SPINEL).text
    parts = ["what separates them", "what does not", "seen with the loupe", "tap a figure"]
    places = [page.index(part) for part in parts]
    assert places == sorted(places)


def test_the_first_sentence_names_the_best_test(client):
    page = client.get(RUBY_SPINEL).text
    verdict = page[page.index('class="verdict"') :].partition("</p>")[0]
    assert "Refractometer, both edges over a full turn" in verdict
    assert "nearly always" in verdict


def test_every_figure_asked_has_an_answer_that_names_its_sources(client, read_page):
    page = read_page(client.get(RUBY_SPINEL).text)
    asked = {e["popovertarget"] for _, e in page.elements if "popovertarget" in e}
    answers = {e["id"] for _, e in page.elements if "popover" in e}
    assert asked
    assert asked == answers
    links = {e.get("href", "") for _, e in page.elements}
    cited = [link for link in links if link.startswith("/materials/corundum#source-")]
    assert cited
    card = read_page(client.get("/materials/corundum").text)
    ids = {e.get("id") for _, e in card.elements}
    assert {link.partition("#")[2] for link in cited} <= ids


def test_a_blank_comparison_teaches_and_offers_examples(client, read_page):
    answer = client.get("/materials/compare")
    assert answer.status_code == 200
    links = {e.get("href", "") for _, e in read_page(answer.text).elements}
    assert "/materials/compare?with=ruby&with=red+spinel" in links


@pytest.mark.parametrize(
    "names", [["xyzzy", "qqqq"], ["ruby", "ruby"], ["ruby", "hydrothermal spinel"]]
)
def test_names_that_cannot_be_compared_are_told_and_kept(client, read_page, names):
    answer = client.get("/materials/compare", params={"with": names})
    assert answer.status_code == 422
    page = read_page(answer.text)
    boxes = [e for _, e in page.elements if e.get("name") == "with"]
    assert [box["value"] for box in boxes] == [*names, ""]
    ids = {e.get("id") for _, e in page.elements}
    wrong = [box for box in boxes if box.get("aria-invalid")]
    assert wrong
    assert all(set(box["aria-describedby"].split()) <= ids for box in wrong)


def test_a_name_is_shown_and_not_believed(client):
    answer = client.get("/materials/compare", params={"with": ["<b>x" * 100, "ruby"]})
    assert answer.status_code == 422
    assert "<b>x" not in answer.text


@pytest.mark.parametrize("path", [RUBY_SPINEL, "/materials/compare?with=xyzzy&with=ruby"])
def test_the_page_carries_no_style_and_no_script_of_its_own(client, read_page, path):
    page = read_page(client.get(path).text)
    ids = [element["id"] for _, element in page.elements if "id" in element]
    assert len(ids) == len(set(ids))
    for tag, element in page.elements:
        assert tag != "style"
        assert "style" not in element
        assert tag != "script" or element["src"].startswith("/static/")


def test_the_list_offers_a_comparison(client, read_page):
    page = read_page(client.get("/materials").text)
    assert len([e for _, e in page.elements if e.get("name") == "with"]) == 3


def test_a_card_links_each_double_to_its_comparison(client, read_page):
    page = read_page(client.get("/materials/spinel").text)
    links = {e.get("href", "") for _, e in page.elements}
    assert "/materials/compare?with=spinel&with=corundum" in links
    assert "/materials/compare?with=natural%20spinel&with=flame-fusion%20spinel" in links


def test_a_bare_name_beside_a_synthetic_of_it_is_read_as_natural(client):
    answer = client.get("/materials/compare", params={"with": ["ruby", "synthetic ruby"]})
    assert answer.status_code == 200
    assert "Natural ruby or synthetic ruby?" in answer.text
