"""Further headings as they are met in English; as found and as left, hot and cold go in pairs."""

from collections.abc import Mapping, Sequence

FURTHER: Mapping[str, Sequence[str]] = {
    "ref": (
        "Valve", "TMV", "TMV Tag", "Asset Ref.", "Asset Number", "TMV asset no", "Valve Ref No",
        "Valve code", "TMV barcode", "Barcode", "Outlet number", "Outlet code", "Plant ref", "System ref",
        "TMV No./Ref", "Equipment No", "Valve ident", "ID no.", "TMV identifier", "Ref #", "Asset #",
        "Valve #",
    ),
    "on": (
        "Date of inspection", "Date inspected", "Date checked", "Check date", "Date of service",
        "Serviced on", "Date serviced", "Service Date", "Sample date", "Date taken", "Date recorded",
        "Recorded on", "Date & time", "Date/time", "Date and time of test", "Completed", "Completed on",
        "Actual date", "Day of test", "Date of reading", "Reading date", "Monitoring date",
        "Date Tested (dd/mm/yyyy)",
    ),
    "hot_c": (
        "Hot inlet {u}", "Hot water in {u}", "Hot water inlet ({u})", "Hot supply to valve {u}", "HW {u}",
        "H.W. temp {u}", "HWS inlet temperature", "Hot side temp {u}", "Hot pipe temp {u}", "DHWS {u}",
        "Temp hot {u}", "Temperature - hot ({u})", "Hot feed {u}", "Hot {u} (inlet)", "Inlet hot",
        "HOT SUPPLY TEMP.", "Hot supply (Deg C)", "Hot Temp. Deg.C", "Incoming hot {u}", "Hot water supply",
        "TMV hot inlet {u}", "Hot I/L {u}",
    ),
    "cold_c": (
        "Cold inlet {u}", "Cold water in {u}", "Cold water inlet ({u})", "Cold supply to valve {u}",
        "CW {u}", "C.W. temp {u}", "CWS inlet temperature", "Cold side temp {u}", "Cold pipe temp {u}",
        "BCWS {u}", "Temp cold {u}", "Temperature - cold ({u})", "Cold feed {u}", "Cold {u} (inlet)",
        "Inlet cold", "COLD SUPPLY TEMP.", "Cold supply (Deg C)", "Cold Temp. Deg.C", "Incoming cold {u}",
        "Cold water supply", "TMV cold inlet {u}", "Cold I/L {u}",
    ),
    "found_c": (
        "Mixed outlet {u} as found", "Mixed (as found) {u}", "Mixed temp found {u}", "Temp found {u}",
        "Outlet as found {u}", "As-found mixed temp ({u})", "Mixed water temp (before)", "Blended (found)",
        "Pre-adjustment temp {u}", "Pre adjustment mixed {u}", "Mixed pre-adj {u}",
        "Pre-service mixed temp {u}", "Mixed temp pre service", "Initial temp {u}",
        "Initial outlet temp {u}", "Initial blended {u}", "TMV outlet temp before {u}",
        "Arrival temp {u}", "Temp. on arrival {u}",
        "Mixed temp (found)", "Found {u}", "Before {u}",
    ),
    "left_c": (
        "Mixed outlet {u} as left", "Mixed (as left) {u}", "Mixed temp left {u}", "Temp left {u}",
        "Outlet as left {u}", "As-left mixed temp ({u})", "Mixed water temp (after)", "Blended (left)",
        "Post-adjustment temp {u}", "Post adjustment mixed {u}", "Mixed post-adj {u}",
        "Post-service mixed temp {u}", "Mixed temp post service", "Final temp {u}", "Final outlet temp {u}",
        "Final blended {u}", "TMV outlet temp after {u}",
        "Departure temp {u}", "Temp. on departure {u}", "Mixed temp (left)",
        "Left {u}", "After {u}",
    ),
    "cold_isolated.max_c": (
        "Max mixed temp with cold isolated {u}", "Maximum temp cold isolated", "Max temp cold off {u}",
        "Max temp on fail {u}", "Failsafe max temp {u}", "Maximum temperature on cold failure ({u})",
        "Highest temp after isolating cold {u}", "Cold water failure max temp {u}",
    ),
    "cold_isolated.residual_ml_min": (
        "Residual flow (ml/min) cold off", "Residual flow with cold isolated (ml/min)", "Leakage ml/min",
        "Flow on cold failure ml/min", "Fail safe residual ml/min", "Collected ml in 1 min",
        "Volume collected in 60 s (ml)", "Fail-safe: residual flow ml/min",
        "Discharge ml/min cold isolated", "Trickle flow ml/min",
    ),
    "cold_isolated.shut_s": (
        "Shut down time s", "Time to close (s)", "Shutdown time (sec)", "Fail-safe closure time s",
        "Fail safe response (s)", "Time to shut down secs", "Seconds to shut off",
        "Cold isolation shut off time s", "Shut-off time, s", "Cut-off time (s)",
    ),
    "cold_isolated.said_to_shut": (
        "Fail safe Y/N", "Fail-safe result", "Failsafe pass/fail", "Fail safe operation",
        "Fail safe operates", "Thermal shut off OK", "Shut-off test", "Thermal shut-off test",
        "Cold isolation test", "Cold water isolation test pass?", "Fail safe checked", "TMV fails safe?",
        "Cold fail-safe", "Shut down test pass",
    ),
    "strainers_cleaned": (
        "Strainers cleaned Y/N", "Strainer clean?", "Filters checked & cleaned",
        "Strainers/filters cleaned", "Inlet strainers cleaned", "Cleaned strainers", "Strainers serviced",
        "Filters",
    ),
    "check_valves_good": (
        "Check valves tested", "NRV check", "NRVs checked", "Non return valves checked",
        "Check valves operating", "NRV pass/fail", "CV OK", "Check valve function",
    ),
    "flow_l_min": (
        "Flow (l/min)", "Flowrate l/min", "Flow LPM", "Outlet flow rate l/m", "Mixed flow rate l/min",
    ),
    "adjusted": (
        "Adjusted?", "Reset Y/N", "Valve adjusted", "TMV adjusted Y/N", "Temp adjusted?",
    ),
    "person": (
        "Engineer name", "Technician name", "Tested By:", "Completed by", "Carried out by", "Test engineer",
        "Inspector", "Operator", "Surveyor", "Name of tester", "Eng.",
    ),
    "remarks": (
        "Comment", "Remedial action", "Action taken", "Notes / comments", "Defects", "Faults found",
        "Further comments", "Additional comments", "Observations/remedials", "General comments",
        "Remarks/Action required",
    ),
}  # fmt: skip
