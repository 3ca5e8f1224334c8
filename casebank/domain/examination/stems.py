"""Turns a written word into the key by which it is compared: endings and spelling variants gone.

The same rules are applied to the catalogue and to the student's text, so a key need not be a word.
"""

from __future__ import annotations

import re
from functools import lru_cache

_VARIANTS = """
sat sit|sats sats|lying lie|lies lie|lain lie|laid lie|lay lie|lays lie|laying lie|feet foot
teeth tooth|felt feel|heard hear|took take|taking take|leant lean|bent bend|held hold|stood stand
gave give|giving give|seen see|apical apex|got get|gotten get|breathe breath|breathes breath
breathing breath|breaths breath|breathed breath|left left|leaves leaf|site site|sites site
belly abdomen|tummy abdomen|gait gait|nodes node|timing time|timed time|times time
using use|used use|raise rais|rise rise|axillae axilla|pupillary pupil|arterial artery
venous vein|renal kidney|hepatic liver|splenic spleen|cardiac heart|pulmonary pulmonary
oedematous oedema|edematous oedema|anaemic anaemia|anemic anaemia|jaundiced jaundice
icterus jaundice|icteric jaundice|cyanosed cyanosis|cyanotic cyanosis|clubbed clubbing
clubbing clubbing|diaphoretic sweating|sweaty sweating|pale pallor|pallid pallor|paleness pallor
second 2nd|first 1st|third 3rd|fourth 4th|fifth 5th|sixth 6th|seventh 7th|eighth 8th
one 1|two 2|three 3|four 4|five 5|six 6|ten 10|twelve 12|fifteen 15|thirty 30|sixty 60
fortyfive 45|degree degree|degrees degree|deg degree|secs sec|seconds sec|sec sec|s s
mins minute|min minute|mm mm|temp temperature|temps temperature|maneuver manoeuvre
maneuvers manoeuvre|center centre|fiber fibre|pediatric paediatric|hematology haematology
gray grey|stetho stethoscope|steth stethoscope|abdo abdomen|abdominal abdomen|tap tap
tapping tap|tapped tap|thoracic thorax|ocular eye|ophthalmic eye|nasal nose|oral mouth
lingual tongue|pedal foot|toe toe|toes toe|glands node|gland node
lymphadenopathy node|adenopathy node|swollen swelling|swell swelling|tender tenderness
murmurs murmur|meds medicine|medications medicine|medication medicine|drugs drug|pills medicine
tablets medicine|allergic allergy|allergies allergy|smoker smok|alcoholic alcohol|drinker drink
asthmatic asthma|diabetic diabetes|breathless breathlessness|dyspnoeic dyspnoea
dyspneic dyspnoea|walking walk|labs blood|bloods blood|abg abg|abgs abg|leg leg
pulsates pulsat|pulsatile pulsat|expiratory expirat|inspiratory inspirat|bruises bruis
diameter diameter|clavicular clavicle|carotids carotid|femorals femoral|radials radial
into in|dont not|doesnt not|didnt not|
hurt pain|hurts pain|hurting pain|sore pain|painful pain|ache pain|aches pain|aching pain|achy pain
gently gentl
neuro neurological|neurologic neurological|neurologically neurological|neurology neurological
resp respiratory|msk musculoskeletal|psych psychiatric|derm dermatological
dermatology dermatological|haematology haematological|haem haematological
poo stool|poos stool|poop stool|faeces stool|feces stool|faecal stool|fecal stool
pee urine|pees urine|peeing urine|peed urine|wee urine|weeing urine|urinate urine|urinating urine
urinary urine|urination urine|phlegm sputum|windpipe trachea|tracheal trachea|breastbone sternum
kneecap patella|kneecaps patella|patellar patella|patellae patella|patellas patella
cool cold|colder cold|chilly cold|warmth warm|warmer warm|numb numbness|tingle tingling
tingly tingling|weak weakness|dizziness dizzy|dizzyness dizzy|tired tiredness|itchy itch
itching itch|itches itch|itchiness itch|nauseous nausea|nauseated nausea|forgetful forgetfulness
hoarse hoarseness|enlarged large|enlargement large|big large|bigger large|larger large
palps palpitation|wells wells|conduction conductn|mission missn|quit quitt|quits quitt
quitting quitt
goiter goitre|goiters goitre
expire expirat|expired expirat|expiring expirat|exhale expirat|exhaling expirat|exhaled expirat
inspire inspirat|inspiring inspirat|inhale inspirat|inhaling inspirat
respiration breath|respirations breath|fingernail nail|fingernails nail
eyesight vision|sight vision|visual vision|talking talk|speaking talk|speak talk|speaks talk
cigs cigarette|cig cigarette|fags cigarette|fag cigarette|jab vaccine|jabs vaccine
vaccination vaccine|vaccinations vaccine|vaccinated vaccine|immunisation vaccine
immunisations vaccine|immunised vaccine
sensory sensation|sensations sensation|redness red|reddened red|anteriorly front
posteriorly back|yellowing yellow|yellowish yellow|symmetrical symmetry|symmetric symmetry
symmetrically symmetry|equally equal|dulness dullness|dull dullness
hyperresonant hyperresonance|irregularly irregular|regularity regular|bulging bulge|bulges bulge
stiff stiffness|slowness slow|shaky shaking|shake shaking|shakes shaking|shakiness shaking
trembling tremor|worry anxiety|worries anxiety|worried anxiety|worrying anxiety|anxious anxiety
harder hard|deeper deep|lighter light|softer soft|firmer firm|gentler gentle|quieter quiet
evert eversion|everted eversion|everts eversion|invert inversion|inverted inversion
news news2|longer long|wider wide|higher high|examination examin
exam examin|hx history|rolling roll|jugular jugular|jugulars jugular
""".replace("\n", "|")
_KNOWN = dict(pair.split() for pair in _VARIANTS.split("|") if pair.strip())

_SPELLINGS = (
    (re.compile(r"(?<=.)ae(?=.)"), "e"),
    (re.compile(r"^oe(?=..)|(?<=.)oe(?=.)"), "e"),
    (re.compile(r"our(?=s?$|ed$|ing$|less$)"), "or"),
    (re.compile(r"is(?=e[sd]?$|ing$|ation$)"), "iz"),
    (re.compile(r"^ae"), "e"),
)
_HAS_SPELLING = re.compile(r"ae|oe|our|is[ea-z]")
_ENDINGS = tuple(
    (frozenset(last), re.compile(pattern), by)
    for last, pattern, by in (
        ("s", r"ies$", "y"),
        ("s", r"(?<=ss|sh|ch)es$|(?<=x)es$", ""),
        ("s", r"(?<![su])s$", ""),
        ("y", r"ically$", "ic"),
        ("y", r"(?<=..)ly$", ""),
        ("g", r"(?<=..[bcdfghklmnprstvwxyz])ing$|(?<=...)ing$", ""),
        ("d", r"(?<=...)ed$", ""),
        ("nry", r"(?<=...t)(?:ion|or|ory)$|(?<=..s)ion$", ""),
        ("e", r"(?<=....)e$", ""),
        ("bdfglmnprst", r"([bdfglmnprst])\1$", r"\1"),
        ("y", r"(?<=[bcdfghklmnprstvwxz])y$", "i"),
    )
)
"""The last letters a word must have for the pattern to be worth trying, the pattern, its place."""


@lru_cache(maxsize=20_000)
def key_of(word: str) -> str:
    """The comparison key of one lower-case word; short words and numbers stay as they are."""
    word = _KNOWN.get(word, word)
    if len(word) <= 3 or not (word.isalpha() or not any(map(str.isdigit, word))):
        return word
    if len(word) > 4 and _HAS_SPELLING.search(word):
        for spelling, by in _SPELLINGS:
            word = spelling.sub(by, word)
    for last, ending, by in _ENDINGS:
        if word[-1] in last and len(word) > 3:
            word = ending.sub(by, word)
    return word


def keys_in(text: str) -> frozenset[str]:
    """The keys of the lower-case words of a text, each once."""
    return frozenset(map(key_of, text.split()))
