"""The materials: found by any of their names, each figure with its source."""


def test_all_materials_are_listed_by_family(client):
    page = client.get("/materials").text
    assert ">corundum" in page
    assert "Garnets" in page


def test_a_variety_finds_its_material(client, read_page):
    page = read_page(client.get("/materials?find=tanzanite").text)
    assert "/materials/zoisite" in {e.get("href") for _, e in page.elements}


def test_a_slip_of_spelling_is_answered_with_what_is_near(client, read_page):
    page = read_page(client.get("/materials?find=corrundum").text)
    assert "/materials/corundum" in {e.get("href") for _, e in page.elements}


def test_what_is_looked_for_is_shown_and_not_believed(client):
    page = client.get("/materials", params={"find": "<b>x" * 400})
    assert page.status_code == 200
    assert "<b>x" not in page.text


def test_a_card_shows_what_each_source_says(client):
    page = client.get("/materials/corundum").text
    assert "<h1>Corundum</h1>" in page
    assert "1.76" in page
    assert 'id="source-memory"' in page
    assert "Flame-fusion" in page


def test_a_card_opens_under_a_variety_too(client):
    page = client.get("/materials/tanzanite")
    assert page.status_code == 200
    assert "<h1>Zoisite</h1>" in page.text
    assert "tanzanite" in page.text


def test_an_unknown_material_is_refused_with_those_near_it(client):
    page = client.get("/materials/sinhalight-ish-topas")
    assert page.status_code == 404
    assert "No material is called" in page.text


def test_a_card_says_what_one_of_its_colours_bears_less(client):
    page = client.get("/materials/beryl").text
    differing = page[page.index("Emerald, natural, where it differs") :].partition("</dl>")[0]
    assert "ultrasonic" in differing


def test_a_card_says_once_and_in_words_how_much_of_it_is_from_memory(client):
    assert client.get("/materials/corundum").text.count("written from memory") == 1


def test_two_bodies_grown_in_one_way_do_not_both_claim_its_share(client):
    page = client.get("/materials/topaz").text
    assert "Hydroxyl-rich topaz" in page
    assert "of those met" not in page
    assert "of those met" in client.get("/materials/corundum").text


def shown_by_instruments(client, name):
    page = client.get(f"/materials/{name}").text
    return page[page.index('id="shows"') :]


def test_a_card_draws_what_the_instruments_show_beside_its_words(client):
    shows = shown_by_instruments(client, "spinel")
    assert shows.count("<figure>") == shows.count("<figcaption>")
    polariscope = shows[shows.index("Polariscope:") :].partition("</figure>")[0]
    assert "single" in polariscope
    assert "<svg" in polariscope


def test_what_follows_the_colour_is_drawn_of_one_colour_type_that_is_named(client):
    shows = shown_by_instruments(client, "corundum")
    assert "of ruby, natural, as most often met" in shows
    filtered = shows[shows.index("Colour filter:") :].partition("</figure>")[0]
    assert "<b>red" in filtered


def test_every_feature_of_the_loupe_on_a_card_is_drawn(client, read_page):
    page = read_page(client.get("/materials/peridot").text)
    pictures = [e for tag, e in page.elements if tag == "img"]
    assert pictures
    for picture in pictures:
        drawing = client.get(picture["src"])
        assert drawing.status_code == 200
        assert drawing.headers["content-type"].startswith("image/svg+xml")
