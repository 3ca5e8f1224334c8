from tests.browser.pages import sign_in
from tests.factories.people import person
def test_shot(open_page, live_server, settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path
    a=person("Ada Author","author")
    for n,size,scheme in (("w",(1440,900),"light"),("p",(320,640),"dark")):
        page=open_page(size); sign_in(page, live_server.url, a); page.emulate_media(color_scheme=scheme)
        page.goto("/cases/signs/?example=heart-01"); 
        page.locator("[data-player]").focus(); page.keyboard.press("r")
        for _ in range(2): page.keyboard.press("ArrowRight"); page.wait_for_timeout(300)
        page.screenshot(path=f"/tmp/shot_{n}.png", full_page=(n=="p"))
