"""The words of cautions: those of every job, and the limits of each country."""

from __future__ import annotations

from typing import NamedTuple

SOURCE = "Each caution names its own source; none is a permission"
CAPACITY = 24
FIRST = (
    "Safety data sheet, machine manual, local law and a competent person decide. What stands here "
    "is usual guidance, not complete, and permits nothing."
)


class Usual(NamedTuple):
    """A caution that stands on every job; ``of_iso`` where the row of iso raises it."""

    what: str
    why: str
    precaution: str
    source: str
    of_iso: bool = False


PEOPLE_FIRST = Usual(
    "People first: when to stop",
    "The machine and the material can wait; people cannot.",
    (
        "Stop spraying at once when air supply fails, anyone coughs or has a tight chest, a gas "
        "alarm sounds, somebody is in the spray zone without air, or anyone may be injected. Who "
        "can walks out into fresh air; ventilation stays on; call for help. Nobody goes in without "
        "supplied air, not even to rescue: that is for the rescue team. Then the machine is shut "
        "down. Nobody goes back to save material."
    ),
    "NIOSH 96-111 (1996) and 2006-149 (2006) on isocyanates and spray-on linings",
)
ISOCYANATE = Usual(
    "Isocyanate",
    "Iso is sprayed as a fine mist.",
    (
        "Supplied air, gloves, covered skin and eyes for everyone in the spray zone; nobody else "
        "inside it, zone marked and guarded; exhaust to where nobody is; eye wash and first aid at "
        "hand; no work for anyone sensitised; trained people only; know the safety data sheet."
    ),
    "REACH Annex XVII entry 74 (training); NIOSH 2006-149 (2006)",
    of_iso=True,
)
BREATHING_AIR = Usual(
    "Breathing air",
    "Whoever sprays lives on air from a compressor.",
    (
        "Breathing air of a tested grade (grade D or EN 12021), a carbon monoxide alarm, no oil "
        "from the compressor, its intake away from engines, exhaust and the mist; couplings that "
        "fit no other gas; in confined spaces an escape bottle on the body; fit tested, shaved, "
        "checked before each shift. A filter mask is no supplied air."
    ),
    "29 CFR 1910.134(d) and (i) (1998); EN 12021 (from memory)",
)
LEAVING = Usual(
    "Leaving and coming back",
    "Mist hangs in the air, and the lining goes on giving off vapour.",
    (
        "Keep supplied air on until out of the zone, ventilation on after spraying; nobody without "
        "air comes back before the re-entry time of the supplier is over and, where asked, the "
        "air is measured. Take suits off outside, never shake or blow them clean."
    ),
    "EPA pages on spray polyurethane foam, re-entry (read 2026); safety data sheets",
)
FIRST_AID = Usual(
    "First aid",
    "Both components hurt eyes, skin and lungs.",
    (
        "Breath: fresh air, rest, half upright, emergency call for a tight chest even hours later. "
        "Eyes: rinse with water for 15 minutes or more, then an eye doctor. Skin: soaked clothes "
        "off, wash at once with much water and soap, no solvent; amine of the resin 15 minutes or "
        "more. Burns: cool running water for 20 minutes. Swallowed: no vomiting, emergency call. "
        "Not breathing: resuscitate, outside. Take the safety data sheet along."
    ),
    "NIOSH Pocket Guide, MDI; section 4 of the safety data sheets",
    of_iso=True,
)
HEALTH = Usual(
    "Symptoms and health checks",
    "Isocyanates and amines can sensitise for life.",
    (
        "Cough, wheeze, tight chest, often at night; itching, rash: stop, report, see a doctor who "
        "knows of isocyanates. Once sensitised, always: no dose is small enough then. Health "
        "checks with lung function before the first job, in its first weeks and each year, as the "
        "doctor says. Amines of the resin burn "
        "and sensitise too: no bare skin on that side either."
    ),
    "NIOSH 96-111 (1996); HSE guidance note MS25 (from memory); safety data sheets",
    of_iso=True,
)
FIRE = Usual(
    "Fire, smoke and static",
    "Linings and drums burn with toxic smoke; spraying makes static.",
    (
        "No hot work, flame or spark beside lining, foam, drums and solvent, now and later: the "
        "lining burns, its smoke holds carbon monoxide, hydrogen cyanide and iso. Bond and earth "
        "drums, cans and gun: sprayed and flowing liquids charge themselves. Fire: get out, "
        "call the fire service, say isocyanate; it is fought by trained people with air of their "
        "own."
    ),
    "Section 5 of the safety data sheets; NFPA 77 (from memory) for static",
)
NEIGHBOURS = Usual(
    "Neighbours, overspray, dust",
    "Overspray and dust travel further than anyone sees.",
    (
        "Mark, screen and watch downwind; shut air intakes, move cars and people; stop in gusts. "
        "Blasting and grinding concrete makes silica dust, old coatings may hold lead: wet or "
        "extracted, with air, tested before."
    ),
    "29 CFR 1926.1153 (silica, 2016) and 1926.62 (lead)",
)

# Limits of exposure by country: substance, numbers, source.
EXPOSURE_LIMITS = {
    "United States": (
        "MDI: OSHA ceiling 0.02 ppm, 0.2 mg/m³; NIOSH recommends 0.005 ppm, 0.05 mg/m³, over a "
        "shift and 0.020 ppm, 0.2 mg/m³, over 10 min",
        "29 CFR 1910.1000 Z-1, construction 1926.55; NIOSH page of CAS 101-68-8",
    ),
    "European Union": (
        "Diisocyanates, counted as NCO: until 31 December 2028 10 µg/m³ over 8 h and 20 µg/m³ over "
        "15 min, then 6 µg/m³ and 12 µg/m³; national law may be stricter; skin and sensitisation",
        "Directive 98/24/EC as amended by (EU) 2024/869",
    ),
    "United Kingdom": (
        "Isocyanates, counted as NCO: 0.02 mg/m³ over 8 h and 0.07 mg/m³ over 15 min, and as far "
        "below as is reasonably practicable",
        "EH40; COSHH regulation 7(7) (from memory)",
    ),
    "Australia": (
        "Isocyanates, counted as NCO: 0.02 mg/m³ over 8 h and 0.07 mg/m³ over 15 min",
        "exposure standards for isocyanates (from memory); replaced by new limits in December 2026",
    ),
}
COUNTED = (
    "Counted as NCO a limit is about a third of the same limit counted as MDI. Spray mist counts "
    "too and is not vapour: it needs sampling of all NCO. A limit is never a permission."
)
# What the atmosphere of a confined space is held against, by country; the strictest first.
ATMOSPHERES = {
    "Australia": (
        "vapour below 5 % of the lower explosive limit (LEL): at 5 % everybody leaves",
        "Work Health and Safety Regulations, confined spaces (as of 2017)",
    ),
    "United States": (
        "vapour not above 10 % of the lower explosive limit (LEL), which is danger already (lining "
        "a new or altered structure is construction, with its own part)",
        "29 CFR 1910.146; construction: 29 CFR 1926 subpart AA (2015)",
    ),
}
