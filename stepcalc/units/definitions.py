"""The unit definitions of the project's one registry, as text for pint.

The reference units are inch, kip, second and kelvin, not the SI ones: every factor between the
units of US practice is then a short decimal (12, 1000), with no round trip through newtons and
metres.  ``lb`` is pound-force and ``ton`` is 2000 lbf; mass is ``lbm``.

Sources: NIST SP 811 (2008), Appendix B: 1 in = 25.4 mm exactly, 1 lbf = 4.448 221 615 260 5 N
exactly, 1 lbm = 0.453 592 37 kg exactly, 1 ft of US practice here is the international foot.
"""

DEFINITIONS = """
kilo- = 1e3 = k-
mega- = 1e6 = M-
giga- = 1e9 = G-
milli- = 1e-3 = m-
centi- = 1e-2 = c-
micro- = 1e-6 = µ-

inch = [length] = in = inches
kip = [force] = kip = kips
second = [time] = s = sec
kelvin = [temperature]; offset: 0 = K

[area] = [length] ** 2
[volume] = [length] ** 3
[stress] = [force] / [area]
[moment] = [force] * [length]
[speed] = [length] / [time]
[mass] = [force] * [time] ** 2 / [length]

radian = [] = rad
degree = 0.017453292519943295 * radian = deg = degrees
percent = 0.01 = percent
vehicle = [] = veh = vehicles
cycle = [] = cyc = cycles

foot = 12 * inch = ft = feet
yard = 36 * inch = yd
mile = 63360 * inch = mi
metre = inch / 0.0254 = m = meter
mil = inch / 1000 = mil

pound_force = kip / 1000 = lb = lbf = pound = pounds = force_pound
ton_force = 2 * kip = ton = tons = force_ton
newton = kip / 4448.2216152605 = N
tonne_force = 9806.65 * newton = tf

minute = 60 * second = min
hour = 3600 * second = h = hr
day = 86400 * second = d = days
year = 31557600 * second = yr = years
mile_per_hour = mile / hour = mph

kip_per_square_inch = kip / inch ** 2 = ksi
pound_per_square_inch = pound_force / inch ** 2 = psi = pound_force_per_square_inch
kip_per_square_foot = kip / foot ** 2 = ksf
pound_per_square_foot = pound_force / foot ** 2 = psf
pound_per_cubic_foot = pound_force / foot ** 3 = pcf
kip_per_cubic_foot = kip / foot ** 3 = kcf
pound_per_foot = pound_force / foot = plf
kip_per_foot = kip / foot = klf
pascal = newton / metre ** 2 = Pa

kilogram = newton * second ** 2 / metre = kg
gram = kilogram / 1000 = g
pound_mass = 0.45359237 * kilogram = lbm

degree_Fahrenheit = 5 / 9 * kelvin; offset: 255.37222222222223 = °F = degF = fahrenheit
degree_Celsius = kelvin; offset: 273.15 = °C = degC = celsius
"""
