"""Pictures in words: form and colour as seen, no name of a sign."""

from __future__ import annotations

from casebank.domain.signs.spec_pictures import Picture

PLAIN = {
    "nails": "Fingers from the side and from above. The nails are evenly pink and smooth; from the "
    "side there is a shallow dip where the nail meets the finger.",
    "hands": "The palm of a hand. Its colour is even and its creases are plain.",
    "face": "A face seen from in front. The colour of the skin is even; the lids are smooth.",
    "eye": "An eye with the lower lid drawn down. The white is white, the lid's lining red, the "
    "coloured ring even to its edge.",
    "fundus": "The back of the eye: a pale round disc with a sharp edge and a small hollow, "
    "vessels running out from it, the ground even.",
    "skin": "A patch of skin, even in colour.",
}
BASE = {
    "nails": "Fingers from the side and from above.", "hands": "The palm of a hand.",
    "face": "A face seen from in front.", "eye": "An eye with the lower lid drawn down.",
    "fundus": "The back of the eye, with its disc and vessels.", "skin": "A patch of skin.",
}  # fmt: skip
SEEN = {
    "clubbing": "The finger ends are {much} swollen; from the side the nail and the finger behind "
    "it run in one line or bulge, without a dip, and the nail curves over.",
    "splinters": "Under the nails are {much} thin, dark red streaks along the length of the nail.",
    "spooning": "The nails are {much} hollowed, their edges turned up.",
    "pitting": "The nails have {much} small round dents, scattered.",
    "palmar-erythema": "The balls of the thumb and little finger and the finger pads are {much} "
    "redder than the middle of the palm.",
    "tar-staining": "The ends of two fingers are {much} brown.",
    "tender-nodes": "On the finger pads are small, raised, reddish lumps.",
    "flat-palm-spots": "On the fleshy parts of the palm are small, flat, red patches.",
    "malar-flush": "Both cheeks are {much} dusky, of a deeper purplish tone than the rest.",
    "xanthelasma": "By the inner corners of the lids are {much} raised, soft yellow patches.",
    "arcus": "Inside the edge of the coloured ring runs a {much} pale grey band.",
    "pallor": "The lining of the lower lid is {much} paler than it should be.",
    "icterus": "The white of the eye is {much} yellow.",
    "cotton-wool": "There are whitish, fluffy patches with soft edges.",
    "flame-haemorrhages": "There are dark red streaks that fan out from the disc.",
    "disc-swelling": "The disc is {much} larger and pinker, its edge blurred, its hollow filled.",
    "copper-wiring": "The arteries are {much} thin, with a broad bright metallic gleam.",
    "hard-exudates": "Small, bright yellow specks with sharp edges stand in a ring.",
    "spider-naevi": "There are small red points, each with fine red lines running out from it.",
    "purpura": "There are many dark purple spots of uneven size, flat, with sharp edges.",
    "target-lesions": "There are round patches of three rings: dark middle, pale ring, red edge.",
    "vesicles": "Clusters of small clear blisters on a red ground lie to one side of the middle "
    "line and stop at it.",
}


def picture_words(picture: Picture) -> str:
    """Sentences on what is to be seen."""
    if not picture.signs:
        return PLAIN[picture.subject]
    much = "slightly" if picture.degree < 0.4 else "clearly"
    sentences = [SEEN[sign].format(much=much) for sign in picture.signs]
    return " ".join([BASE[picture.subject], *sentences])
