"""Headings as they are met, by language; as found and as left go in pairs."""

from collections.abc import Mapping, Sequence
from random import Random

from tests.intake.manners.further_headings import FURTHER

ENGLISH: Mapping[str, Sequence[str]] = {
    "ref": (
        "Ref", "TMV ref", "Asset no.", "Valve ID", "Tag", "Asset tag", "TMV No", "Valve ref.",
        "Asset reference",
        "Unique ref", "Valve Number", "TMV ID", "Outlet ref", "Asset ID", "Equipment ref",
        "TMV Reference No.",
        "Asset Code",
    ),
    "on": (
        "Date", "Date tested", "Test date", "Date of test", "Visit date", "Tested on", "Date of visit",
        "Date completed", "Date Carried Out", "Inspection date",
    ),
    "hot_c": (
        "Hot {u}", "Hot temp ({u})", "HWS {u}", "Hot supply {u}", "Hot in ({u})", "Hot water temp {u}",
        "Hot feed temperature ({u})", "HWS Temp {u}", "DHW in ({u})", "T hot {u}", "Hot inlet temp {u}",
        "Hot Water Supply Temperature {u}", "Hot flow temp ({u})", "HOT {u}",
        "Hot supply temp at valve [{u}]",
    ),
    "cold_c": (
        "Cold {u}", "Cold temp ({u})", "CWS {u}", "Cold supply {u}", "Cold in ({u})", "Cold water temp {u}",
        "Cold feed temperature ({u})", "CWS Temp {u}", "MCWS in ({u})", "T cold {u}", "Cold inlet temp {u}",
        "Cold Water Supply Temperature {u}", "Cold flow temp ({u})", "COLD {u}",
        "Cold supply temp at valve [{u}]",
    ),
    "found_c": (
        "Mixed found {u}", "Mixed as found ({u})", "As found {u}", "Mixed temp as found {u}",
        "Blended temp found {u}", "TMV as found {u}", "Outlet temp (found) {u}", "Mix temp before adj. {u}",
        "Mixed before adjustment {u}", "Temp as found {u}", "Blend before {u}", "Found temp {u}",
        "Initial mixed temp {u}", "Mixed outlet temp on arrival {u}",
    ),
    "left_c": (
        "Mixed left {u}", "Mixed as left ({u})", "As left {u}", "Mixed temp as left {u}",
        "Blended temp left {u}", "TMV as left {u}", "Outlet temp (left) {u}", "Mix temp after adj. {u}",
        "Mixed after adjustment {u}", "Temp as left {u}", "Blend after {u}", "Left temp {u}",
        "Final mixed temp {u}", "Mixed outlet temp on leaving {u}",
    ),
    "cold_isolated.max_c": (
        "Max after cold off {u}", "Max temp on cold isolation {u}", "Cold off max ({u})",
        "Max. temp cold isolated {u}", "Peak temp after cold shut off {u}",
    ),
    "cold_isolated.residual_ml_min": (
        "Residual flow ml/min", "Flow after cold isolation (ml/min)", "Fail-safe flow ml/min",
        "Residual (ml/min)", "Cold off flow ml/min", "Residual flow after cold isolation ml per min",
    ),
    "cold_isolated.shut_s": (
        "Shut-off s", "Shut off time (s)", "Time to shut off (sec)", "Fail-safe time (s)",
        "Closing time secs",
        "Fail safe shut-off time (seconds)",
    ),
    "cold_isolated.said_to_shut": (
        "Fail safe OK?", "Fail-safe test", "Failsafe ok", "Fail safe test (P/F)",
        "Shuts off on cold failure Y/N",
        "Fail Safe Pass/Fail", "Cold failure test OK?",
    ),
    "strainers_cleaned": ("Strainers cleaned", "Filters cleaned Y/N", "Strainers cleaned?",
    "Strainers clean"),
    "check_valves_good": ("Check valves OK", "NRVs OK", "Check valves", "Non-return valves OK?"),
    "flow_l_min": ("Flow l/min", "Flow rate (l/min)", "Mixed flow (litres/min)"),
    "adjusted": ("Adjusted", "Adjusted Y/N", "Adjustment made?"),
    "person": ("Tested by", "Engineer", "Technician", "Tester", "Operative", "Initials"),
    "remarks": ("Remarks", "Comments", "Notes", "Observations", "Comments / actions"),
    "place": ("Location", "Room", "Area", "Location / room", "Room description", "Where"),
}  # fmt: skip
GERMAN: Mapping[str, Sequence[str]] = {
    "ref": ("Armaturen-Nr.", "Ventil-Nr.", "Kennung", "Anlagen-Nr.", "Objekt-Nr."),
    "on": ("Datum", "Prüfdatum", "Geprüft am", "Datum der Prüfung", "Messdatum"),
    "hot_c": ("Warmwasser {u}", "Heißwasser {u}", "PWH {u}", "Temperatur warm {u}", "TWW-Temperatur {u}",
    "Warm {u}"),
    "cold_c": ("Kaltwasser {u}", "Kaltwasser {u}", "PWC {u}", "Temperatur kalt {u}", "TWK-Temperatur {u}",
    "Kalt {u}"),
    "found_c": (
        "Mischwasser vorgefunden {u}", "Mischwasser vorher {u}", "Mischtemperatur vor Einstellung {u}",
        "Vorgefunden {u}", "Mischwassertemperatur vorher {u}",
    ),
    "left_c": (
        "Mischwasser hinterlassen {u}", "Mischwasser nachher {u}", "Mischtemperatur nach Einstellung {u}",
        "Hinterlassen {u}", "Mischwassertemperatur nachher {u}",
    ),
    "cold_isolated.residual_ml_min": ("Restdurchfluss ml/min", "Restfluss (ml/min)",
    "Durchfluss Kalt ab ml/min"),
    "cold_isolated.shut_s": ("Schließzeit s", "Absperrzeit (Sek.)", "Schließzeit in Sekunden"),
    "cold_isolated.said_to_shut": ("Verbrühschutz i.O.", "Verbrühschutz", "Verbrühschutz OK"),
    "strainers_cleaned": ("Siebe gereinigt", "Filter gereinigt"),
    "person": ("Prüfer", "Geprüft von", "Techniker"),
    "remarks": ("Bemerkungen", "Bemerkung", "Anmerkungen"),
    "place": ("Raum", "Ort", "Standort", "Lage"),
}  # fmt: skip
FRENCH: Mapping[str, Sequence[str]] = {
    "ref": ("Repère", "Réf.", "N° vanne", "Code vanne", "Identifiant", "Référence mitigeur"),
    "on": ("Date", "Date contrôle", "Contrôlé le", "Date de visite", "Date du relevé"),
    "hot_c": ("Eau chaude {u}", "T° eau chaude ({u})", "ECS {u}", "Arrivée chaude {u}", "Temp. ECS {u}"),
    "cold_c": ("Eau froide {u}", "T° eau froide ({u})", "EFS {u}", "Arrivée froide {u}", "Temp. EF {u}"),
    "found_c": (
        "Eau mitigée avant {u}", "T° mitigée avant réglage ({u})", "Mitigée trouvée {u}", "Avant réglage {u}",
        "Température mitigée avant réglage {u}",
    ),
    "left_c": (
        "Eau mitigée après {u}", "T° mitigée après réglage ({u})", "Mitigée laissée {u}", "Après réglage {u}",
        "Température mitigée après réglage {u}",
    ),
    "cold_isolated.residual_ml_min": ("Débit résiduel ml/min", "Débit froid coupé (ml/min)"),
    "cold_isolated.shut_s": ("Temps de fermeture s", "Temps de coupure (s)"),
    "cold_isolated.said_to_shut": ("Sécurité OK", "Anti-brûlure OK", "Coupure OK"),
    "strainers_cleaned": ("Filtres nettoyés", "Tamis nettoyé"),
    "person": ("Technicien", "Contrôlé par", "Opérateur"),
    "remarks": ("Observations", "Remarques", "Commentaires"),
    "place": ("Local", "Pièce", "Emplacement", "Localisation"),
}  # fmt: skip


class Headings:
    """Chooses the headings of one sheet.

    Args:
        random: seeded.
        language: the pool.
        unit: of temperatures, as it is written in headings; empty writes none.
    """

    def __init__(
        self, random: Random, language: Mapping[str, Sequence[str]] = ENGLISH, unit: str = "°C"
    ) -> None:
        self._random, self._language, self._unit = random, language, unit
        self._chosen: dict[str, int] = {}

    def __getitem__(self, field: str) -> str:
        pool = self._language[field]
        if self._language is ENGLISH:
            pool = (*pool, *FURTHER.get(field, ()))
        twin = {"left_c": "found_c", "cold_c": "hot_c"}.get(field, field)
        place = self._chosen.setdefault(twin, self._random.randrange(len(pool)))
        return " ".join(
            pool[place % len(pool)].format(u=self._unit).replace("()", "").replace("[]", "").split()
        )
