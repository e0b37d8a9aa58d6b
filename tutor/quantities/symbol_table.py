"""THE table of letter symbols, as plain data: one row a symbol, in the order of the circuits that bring it in.

Vocabulary: a *row* is name | unit code | sign | aliases | meaning and reference direction. Signs: `+` positive in
normal operation, `0` may also be zero, `~` any. Aliases are further names a learner may type; spellings that differ
only in case or underscores (`Vz`, `VZ`, `v_z` for V_Z) need no alias.
Place in the data flow: read by `symbols.py`, which gives the rows their types; nothing else reads it.

The letters follow IEC 60027 and IEC 60747-1: capital letter and capital subscript for d.c. values, small letter for
a small-signal property of a device (r_z); M for a rated maximum, K for the knee, T for a test point.
"""

ROWS = """
V_I          | V    | + | Vin V_supply Vunreg Vcc | supply (unregulated input) voltage, to ground
I_I          | A    | + | Iin I_supply            | current drawn from the supply, out of its positive terminal
R_S          | ohm  | 0 | Rsource R_src           | internal (source) resistance of the supply
V_OC         | V    | + | Voc Vopen               | open-circuit voltage of the supply

V_PRI        | V    | + | Vprimary                | primary voltage of the transformer, r.m.s.
N_T          |      | + | N turns turns_ratio     | turns ratio of the transformer, primary over secondary
V_SEC        | V    | + | Vsecondary              | secondary voltage, r.m.s. (of each half when centre-tapped)
V_SPK        | V    | + | Vspeak                  | crest of the secondary voltage
I_SEC        | A    | + | Isecondary              | secondary current, r.m.s.
VA           | VA   | + | S_rating                | apparent-power rating of the transformer
f            | Hz   | + | freq fmains             | mains frequency
C            | F    | + | Cres Creservoir         | reservoir capacitance
V_F          | V    | 0 | Vd Vdiode Vfwd          | forward drop of one rectifier diode
V_PK         | V    | + | Vpeak Vp Vcrest Vm      | crest of the voltage across the reservoir
V_RIP        | V    | + | Vripple Vrpp V_r_pp     | ripple across the reservoir, peak to peak
V_DC         | V    | + | Vavg Vmean              | mean voltage across the reservoir
V_TROUGH     | V    | + | Vvalley                 | lowest voltage across the reservoir within a cycle
PIV          | V    | + | Vpiv PRV V_RRM          | peak inverse voltage across a rectifier diode
R_W          | ohm  | 0 | Rwinding                | resistance of the winding, referred to the secondary
I_CREST      | A    | + | Ipeak Ipk               | crest of the charging current through the rectifier
phi          |      | + | φ                       | half the angle over which a rectifier conducts, in radians
W_C          | J    | + | Ecap E_C                | energy stored in the reservoir
t_HOLD       | s    | 0 | tholdup                 | hold-up time, from mains gone till the reservoir no longer serves
V_CM         | V    | + | Vcap_rating             | rated (greatest permissible) voltage of the reservoir capacitor

V_O          | V    | + | Vout V_L Vload          | output voltage, to ground
V_RIP_O      | V    | 0 | Vripple_out V_r_out     | ripple at the output, peak to peak
I_L          | A    | 0 | Iload I_O Iout          | load current, out of the output into the load
R_L          | ohm  | + | Rload                   | load resistance
P_O          | W    | 0 | Pout P_L Pload          | power delivered to the load
P_I          | W    | + | Pin                     | power drawn from the supply
eta          | %    | 0 | η eff efficiency        | efficiency, output power over input power

R            | ohm  | + | Rseries                 | series (or bias) resistor, from the supply to the zener
R_FEED       | ohm  | + | Rfeeding                | resistor from the supply to the zener of one regulator of several
I_R          | A    | + | IRseries                | current through R, from the supply towards the zener
V_R          | V    | + | VRseries                | voltage across R, positive at the supply end
P_R          | W    | + | PRseries                | power dissipated in R
P_RM         | W    | + | PRrating                | rated dissipation of R

V_Z          | V    | + | Vzener                  | zener voltage, cathode positive to anode
I_Z          | A    | + | Izener                  | zener current, into the cathode
P_Z          | W    | + | Pzener                  | power dissipated in the zener
r_z          | ohm  | 0 | Z_Z Z_ZT rzt rzener     | slope resistance of the zener in breakdown
V_ZT         | V    | + |                         | zener voltage at its test current
I_ZT         | A    | + |                         | test current at which the zener voltage is stated
V_Z0         | V    | + | VZO                     | zener voltage extrapolated to zero current
I_ZK         | A    | + | Izknee                  | least zener current for good regulation (the knee)
I_ZM         | A    | + |                         | greatest permissible zener current
P_ZM         | W    | + | PZrating                | rated dissipation of the zener
V_TH         | V    | + | Vthevenin               | output voltage with the zener taken out

V_BE         | V    | + | V_BE_on                 | base-emitter voltage while conducting, base positive (PNP: emitter)
h_FE         |      | + | beta β bF βF h21e       | static current gain, collector current over base current
V_B          | V    | + | Vbase                   | voltage of the base, to ground
I_B          | A    | + | Ibase                   | base current, into the base (PNP: out of it)
I_C          | A    | + | Icollector              | collector current, into the collector (PNP: out of it)
I_E          | A    | + | Iemitter                | emitter current, out of the emitter (PNP: into it)
V_CE         | V    | + |                         | collector-emitter voltage, collector positive (PNP: emitter)
V_CE_SAT     | V    | + |                         | least collector-emitter voltage in the active region
P_Q          | W    | + | Ptransistor             | power dissipated in the transistor
P_QM         | W    | + | PQrating                | rated dissipation of the transistor
V_CEM        | V    | + | V_CEO                   | greatest permissible collector-emitter voltage
I_CM         | A    | + |                         | greatest permissible collector current
R_BE         | ohm  | + |                         | resistor from base to emitter
I_RBE        | A    | 0 |                         | current through the resistor from base to emitter
I_F          | A    | 0 | Idiode                  | forward current of a junction
R_D          | ohm  | + |                         | resistor that feeds the zener from the output
I_RD         | A    | 0 |                         | current through the resistor that feeds the zener from the output

R_1          | ohm  | + | Rupper                  | upper resistor of the output divider
R_2          | ohm  | + | Rlower                  | lower resistor of the output divider
I_DIV        | A    | + | Idivider                | current through the divider, towards ground
I_LOWER      | A    | 0 |                         | current through the lower divider resistor, towards ground
V_TAP        | V    | + |                         | voltage of the divider's tap, to ground

V_REF        | V    | + | Vreference              | reference voltage
I_REF        | A    | 0 | Ireference              | current into the reference pin
I_ADJ        | A    | 0 | Iadjust                 | current out of the adjust pin
I_K          | A    | + | Icathode                | cathode current of the shunt reference, into the cathode
I_K_MIN      | A    | + |                         | least cathode current for good regulation
V_REG        | V    | + | Vnominal                | fixed output voltage of a three-terminal regulator
I_Q          | A    | 0 | Iquiescent I_gnd        | quiescent current, out of the ground pin
I_REG        | A    | + | Ireg                    | current out of the output pin of the regulator
I_RI         | A    | + |                         | current into the input pin of the regulator
V_RI         | V    | + |                         | voltage of the regulator's input pin, to ground
V_RO         | V    | + |                         | voltage of the regulator's output pin, to ground
V_IO         | V    | + | Vdiff                   | voltage across the regulator, from its input to its output
V_DROP       | V    | + | V_DO Vdropout           | least input-output difference (drop-out voltage)

A            |      | + | A_OL A_V gain           | open-loop voltage gain of the amplifier
R_O          | ohm  | 0 | Ro_amp                  | output resistance of the amplifier alone
V_OA         | V    | + | Vamp                    | output voltage of the amplifier, to ground
I_OA         | A    | ~ | Iamp                    | output current of the amplifier, out of its output
I_OAM        | A    | + |                         | most current that the amplifier can give
V_HEAD       | V    | ~ | Vheadroom               | headroom, from the supply at its lowest to the output

R_OUT        | ohm  | 0 | Zout Z_O                | output resistance of the regulator, −∂V_O/∂I_L
S_V          | V/V  | ~ |                         | line sensitivity ∂V_O/∂V_I
S_I          | ohm  | ~ |                         | load sensitivity ∂V_O/∂I_L, equal to −R_OUT
S_T          | V/K  | ~ |                         | temperature sensitivity ∂V_O/∂T
alpha_Z      | %/K  | ~ | α_Z αz alphaz TC_Z      | temperature coefficient of the zener voltage, relative
k_BE         | V/K  | ~ | TC_BE                   | temperature coefficient of V_BE
T            | degC | ~ | temperature             | temperature of the parts
DT           | K    | ~ | deltaT dtemp            | change of temperature
REG_LINE     | V/V  | ~ | line_regulation         | line regulation, change of output over change of supply
REG_LOAD     | %    | ~ | load_regulation         | load regulation, relative change of output from no to full load
RR           | dB   | ~ | PSRR ripple_rejection   | ripple rejection, input ripple over output ripple
RIPPLE_FACTOR | %   | 0 | γ ripplefactor          | ripple over the mean voltage

R_SENSE      | ohm  | + | Rsc R_CL                | current-sense resistor in the output lead
V_E          | V    | + | Vemitter                | voltage of the pass transistor's emitter, to ground
I_SENSE      | A    | 0 |                         | current through the current-sense resistor, towards the output
V_SENSE      | V    | 0 |                         | voltage across the sense resistor, positive at the pass device
P_SENSE      | W    | 0 |                         | power dissipated in the current-sense resistor
V_KNEE       | V    | + |                         | output voltage at the knee of the foldback characteristic
I_LIM        | A    | + | Ilimit I_CL             | load current at which limiting begins
I_KNEE       | A    | + | Ifold                   | load current at the knee of the foldback characteristic
I_SC         | A    | + | Ishort                  | output current into a short circuit
P_SC         | W    | + |                         | power in the pass device with the output shorted
R_A          | ohm  | + |                         | upper resistor of the foldback divider
R_B          | ohm  | + |                         | lower resistor of the foldback divider

P_D          | W    | + | Pdiss P_tot             | power dissipated in the device
T_J          | degC | ~ | Tjunction               | junction temperature
T_JM         | degC | ~ | Tjm Tjmax               | greatest permissible junction temperature
T_C          | degC | ~ | Tcase                   | case temperature
T_S          | degC | ~ | Tsink                   | heat-sink temperature
T_A          | degC | ~ | Tamb Tambient           | ambient temperature
R_thJC       | K/W  | + | thetaJC θJC Rth_j_c     | thermal resistance, junction to case
R_thCS       | K/W  | 0 | thetaCS θCS Rth_c_s     | thermal resistance, case to heat-sink
R_thSA       | K/W  | + | thetaSA θSA Rth_s_a     | thermal resistance, heat-sink to ambient
R_thJA       | K/W  | + | thetaJA θJA Rth_j_a     | thermal resistance, junction to ambient in free air

tol_R        | %    | 0 |                         | tolerance of the resistor, either way
tol_Z        | %    | 0 |                         | tolerance of the zener voltage, either way
tol_C        | %    | 0 |                         | tolerance of the capacitor, either way
tol_REF      | %    | 0 |                         | tolerance of the reference voltage, either way
E_REF        | V    | 0 |                         | error of the output by the reference's tolerance, either way
E_UPPER      | V    | 0 |                         | error of the output by the upper resistor's tolerance, either way
E_LOWER      | V    | 0 |                         | error of the output by the lower resistor's tolerance, either way
E_WC         | V    | 0 |                         | error of the output in the worst case, either way
E_LINE       | V    | 0 |                         | change of the output that the line makes over its range
E_LOAD       | V    | 0 |                         | change of the output that the load makes over its range
E_TEMP       | V    | 0 |                         | change of the output that the temperature makes over its range
E_BAND       | V    | 0 |                         | width of the band the output stays in: line, load and temperature
E_RSS        | V    | 0 |                         | error of the output by root-sum-square, either way
"""
