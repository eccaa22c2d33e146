"""Colours of pure light as a screen can show them, 380 to 780 nm in steps of 5 nm.

Computed once from the colour matching functions of the CIE 1931 2 degree standard observer, as
the package colour-science 0.4.7 holds them, with the sRGB matrix for D65. Pure light lies outside
what a screen shows, so each colour is moved towards the grey of its own luminance until no part
is negative, which keeps the dominant wavelength. Brightness follows the eye's, to the power
0.22: both ends of a real spectrum are dim, yet must be told from the dark on a page.
"""

FIRST_NM, STEP_NM = 380, 5

TABLE = """
#30005c #320061 #360068 #3a006e #3e0075 #41007b #460083 #4a008b #4e0094
#53009d #5500a5 #5600ab #5600b0 #5400b5 #4f00b9 #4600be #3400c2 #0014c6
#004cca #0071ce #0092d2 #00b3d7 #00d3db #00e0cf #00e5c1 #00eab7 #00efb0
#00f3a9 #00f7a3 #00f99c #00fb93 #00fd88 #00fe77 #00ff58 #2cff00 #78ff00
#a7ff00 #d0fe00 #fafe00 #fdda00 #fcb800 #fa9b00 #f88000 #f66700 #f45000
#f13600 #ef1200 #ec0021 #e80030 #e40037 #e0003c #dc003e #d7003f #d20040
#cd003f #c8003e #c2003d #bc003b #b6003a #b10038 #ab0036 #a50034 #9f0032
#9a0030 #95002e #90002c #8b002b #860029 #810027 #7d0025 #780024 #740022
#700020 #6c001f #68001d #64001c #60001b #5d001a #5a0018 #560017 #530016
"""
SPECTRAL_COLOURS = tuple(TABLE.split())
