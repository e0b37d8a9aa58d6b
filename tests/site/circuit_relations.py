"""Relations of each circuit, right and wrong, of kinds that single changes to a model solution seldom make.

Used by `made_workings.py`.
"""

from __future__ import annotations

RELATIONS_OF = {
    "rectifiers": (
        "V_PK_3 = V_PK_2 − V_F", "V_RIP_1 = 2 V_RIP_3", "V_RIP_2 = I_L/(f C)", "V_TROUGH_1 = V_DC_1 − V_RIP_1/2",
        "PIV_2 = 2 √2 V_SEC − V_F", "PIV_3 = V_SPK", "V_PK_1 = V_PK_3", "VA_2 = V_SEC I_SEC_2", "I_SEC_3 = I_L",
    ),
    "regulators": (
        "I_Z_1 = I_R_1 − I_L", "I_Z_1 = I_L", "V_Z_2 = V_O − V_BE", "I_B_2 = I_L h_FE", "P_D_1 = P_R_1 + P_Z_1",
        "P_D_2 = V_I I_L − P_O", "η_1 = V_O/V_I", "η_2 = P_O/P_I_2", "R_OUT_2 = R_OUT_1/(h_FE + 1)",
        "R_OUT_3 = R_O/(h_FE + 1)/A", "I_I_3 = I_L + I_DIV", "V_Z_3 = V_O R_1/(R_1 + R_2)", "P_Z_2 = V_O I_Z_2",
    ),
    "source": (
        "R_S = ΔV_I/ΔI_I", "ΔV_I = −R_S ΔI_I", "V_OC = I_I (R_S ∥ R_L)", "V_I = V_OC R_L/(R_S ∥ R_L)", "I_I = V_OC/R_L",
        "V_I = V_OC + R_S", "P_I = V_I²", "R_S = (V_I_1 − V_I_2)/(I_I_1 − I_I_2)", "V_OC = V_I_1 − R_S I_I_1",
    ),
    "zener-shunt": (
        "R_OUT = ΔV_O/ΔI_L", "R_OUT = r_z + R", "ΔV_O = r_z ΔI_Z", "S_V = r_z/R", "I_L = I_Z = I_R", "P_Z = V_Z + I_Z",
        "V_TH = V_I R_L/(R ∥ R_L)", "V_TH = V_I R/(R + R_L)", "I_Z = I_R + I_L", "I_R = V_I/R", "P_Z = V_Z I_Z/2",
        "P_R = 2 (V_I − V_O)²/R", "I_R = I_Z = I_L + I_Z", "ΔV_O = ΔI_L (R ∥ r_z)", "I_R = V_I − V_Z/R",
    ),
    "follower": (
        "I_B = I_L/h_FE", "I_B = I_L h_FE", "V_O = V_Z + V_BE", "P_Q = V_CE I_L", "P_Q = V_O I_L",
        "I_R = (V_I − V_O)/R",
        "I_B = I_L/(h_FE + 1) = I_L/h_FE", "I_C = I_L", "I_C = I_B", "V_CE = V_I − V_Z", "P_Q = V_CE²/I_L", "I_Z = I_R",
        "R_MAX = (V_I_MIN − V_Z)/(I_L_MAX/h_FE + I_ZK)", "I_R = I_Z + I_L",
    ),
    "reservoir": (
        "V_PK = V_SEC − 2 V_F", "V_PK = √2 V_SEC", "V_PK = √2 V_SEC − V_F", "V_PK = √2 V_SEC − 2 V_F",
        "V_RIP = I_L/(f C)", "V_RIP = I_L/(2 f C)", "V_RIP = I_L f C", "V_DC = V_PK − V_RIP", "V_DC = V_PK − V_RIP/2",
        "V_TROUGH = V_PK − V_RIP/2", "V_TROUGH = V_DC − V_RIP/2", "V_DC = 2 V_PK/3.1416", "PIV = V_SPK",
        "PIV = 2 V_SPK − V_F", "W_C = C V_PK²", "W_C = 1/2 C V_PK²", "V_DROP = V_PK − V_O", "I_L = V_DC R_L",
        "V_SEC = V_PRI N_T", "VA = V_SEC I_L", "RIPPLE_FACTOR = V_RIP/V_DC",
    ),
    "compensated-shunt": (
        "V_O = V_Z − V_F", "ΔV_O = ΔV_Z − ΔV_F", "ΔV_Z = alpha_Z ΔT", "ΔV_F = V_F k_BE ΔT", "S_T = alpha_Z V_Z − k_BE",
        "S_T = alpha_Z + k_BE", "ΔV_O = S_T/ΔT", "I_R = (V_I − V_Z)/R", "P_Z = V_O I_Z", "I_Z = I_R + I_L",
        "V_Z = V_ZT + r_z I_Z", "V_O = V_Z0 + r_z I_Z + V_F",
    ),
    "boosted-shunt": (
        "V_O = V_Z − V_BE", "V_O = V_Z", "I_R = (V_I − V_Z)/R", "I_Z = I_B", "I_Z = I_B + I_RBE", "I_C = I_R − I_L",
        "I_C = h_FE I_Z", "I_C = I_B", "P_Q = V_Z I_C", "P_Q = V_O I_C", "I_B = (I_R − I_L)/h_FE", "P_Z = V_O I_Z",
        "I_RBE = V_O/R_BE", "R_OUT = r_z", "R_OUT = r_z/(h_FE + 1)", "I_B = (I_R − I_L − I_RBE)/(h_FE + 1)",
    ),
    "reference-shunt": (
        "V_O = V_REF (1 + R_2/R_1)", "V_O = V_REF (1 + R_1/R_2)", "V_O = V_REF R_1/R_2", "I_K = I_R − I_L",
        "V_O = V_REF (1 + R_1/R_2) − I_REF R_1", "I_DIV = V_O/R_1", "I_DIV = V_REF/R_2", "I_LOWER = I_DIV + I_REF",
        "I_DIV = V_O/(R_1 + R_2)", "P_D = V_REF I_K", "P_D = V_O I_R", "I_K = I_R + I_L + I_DIV",
    ),
    "opamp-shunt": (
        "V_O = V_REF (1 + R_2/R_1)", "V_O = V_REF R_2/(R_1 + R_2)", "I_DIV = V_O/R_1", "I_DIV = V_O/(R_1 + R_2)",
        "I_C = I_R + I_L", "I_C = I_R − I_L", "I_OA = I_C h_FE", "I_OA = I_C/(h_FE + 1)", "P_Q = V_REF I_C",
        "P_Q = V_O (I_R − I_L)", "V_OA = V_REF", "V_O = V_REF (1 + R_1/R_2)",
    ),
    "darlington": (
        "V_O = V_Z − V_BE_1", "V_O = V_Z − V_BE_1 − V_BE_2", "I_B_2 = I_L/h_FE_2", "I_B_1 = I_L/(h_FE_1 h_FE_2)",
        "I_B_1 = I_B_2/(h_FE_1 + 1)", "I_B_1 = I_L/(h_FE_1 + h_FE_2)", "I_R = (V_I − V_O)/R", "I_Z = I_R − I_B_1",
    ),
    "current-limit": (
        "I_LIM = V_BE_2 R_SENSE", "R_SENSE = V_BE_2/I_LIM", "P_Q_1 = V_I I_SENSE", "V_CE_1 = V_I − V_O",
        "V_CE_1 = V_I − V_O − V_BE_2", "P_SENSE = V_BE_2²/R_SENSE", "P_SENSE = V_O I_SENSE", "V_SENSE = V_BE_1",
    ),
    "full-regulator": (
        "V_O = V_REF (1 + R_1/R_2)", "V_OA = V_O + V_BE_1 + V_BE_2", "V_OA = V_O + V_SENSE + V_BE_1 + V_BE_2",
        "I_LIM = V_BE_3/R_SENSE", "I_LIM = V_BE_3 R_SENSE", "V_CE_2 = V_I − V_O", "P_SC = (V_I − V_BE_3) I_LIM",
        "I_OA = I_SENSE/(h_FE_1 h_FE_2)",
    ),
    "foldback": (
        "I_SC = V_BE_2/R_SENSE", "I_SC = V_BE_2 (1 + R_A/R_B)/R_SENSE", "I_KNEE = I_SC", "V_TAP = V_O + V_BE_2",
        "I_KNEE = I_SC + V_KNEE R_A/(R_B R_SENSE)", "V_E = V_TAP (1 + R_B/R_A)", "V_CE_1 = V_I − V_O",
    ),
    "prestabilised": (
        "V_O = V_Z − V_BE", "V_O = V_Z + V_BE", "I_R = (V_O_P − V_Z)/R", "I_R = (V_I − V_Z)/R", "I_B = I_L/(h_FE + 1)",
        "V_CE = V_I − V_O", "V_CE = V_O_P − V_O", "I_Z = I_R − I_B", "I_I = I_R + I_L", "V_B = V_O", "P_Q = V_CE I_L",
    ),
    "heat-path": (
        "T_J = P_D (R_thJC + R_thCS + R_thSA)", "T_J = T_A + P_D (R_thJC + R_thCS + R_thSA)", "T_S = T_A + P_D R_thSA",
        "T_C = T_J − P_D R_thJC", "R_thSA = (T_J + T_A)/P_D − R_thJC − R_thCS", "T_C = T_A + P_D R_thJC",
        "P_D = (T_J − T_A)/(R_thJC + R_thCS + R_thSA)", "T_J = T_S",
    ),
    "three-terminal": (
        "P_D = V_IO I_L", "P_D = V_O I_L", "V_IO = V_I − V_O", "V_IO = V_I + V_O", "I_I = I_L", "P_O = V_O I_L",
    ),
    "feedback-pair": (
        "V_O = V_Z + V_BE_2", "V_CE_1 = V_I − V_O", "I_B_1 = I_L/h_FE_1", "V_CE_1 = V_I", "P_Q_1 = V_O I_L",
    ),
    "opamp-series": (
        "V_O = V_REF (1 + R_1/R_2)", "V_O = V_REF (1 + R_2/R_1)", "V_OA = V_O", "V_OA = V_O + V_BE", "V_CE = V_I − V_O",
    ),
    "whole-supply": (
        "V_PK = √2 V_SEC − 2 V_F", "V_PK = V_SEC − 2 V_F", "V_RIP = I_L/(2 f C)", "V_RIP = I_L/(f C)",
        "V_TROUGH = V_DC − V_RIP/2", "V_TROUGH = V_PK − V_RIP/2", "V_HEAD = V_DC − V_O", "V_HEAD = V_TROUGH − V_O",
        "V_I = V_DC", "V_I = V_PK", "V_SEC = V_PRI N_T", "T_S = T_A + T_C", "PIV = 2 V_SPK − V_F", "V_I = V_TROUGH",
    ),
}  # fmt: skip


def relations_of(circuit: str) -> tuple[str, ...]:
    """Those of a circuit, of all its forms alike where it comes in forms."""
    stem = next(name for name in RELATIONS_OF if circuit == name or circuit.startswith(f"{name}-"))
    return RELATIONS_OF[stem]
