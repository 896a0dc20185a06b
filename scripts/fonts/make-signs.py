# Makes src/renderer/look/signs.woff2, once, with fontTools 4: `python3 scripts/fonts/make-signs.py` from the root of the project.
# Bravura's accidentals set at text size (cap height 0.67 em, on the baseline), an arrow to match
# Source Sans, and the SMuFL glyphs the pages draw. Renamed, as the Open Font License asks of a changed font.
from fontTools.ttLib import TTFont
from fontTools import subset
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.transformPen import TransformPen

f = TTFont('node_modules/@vexflow-fonts/bravura/bravura.otf')
o = subset.Options(); o.layout_features = []; o.name_IDs = [0, 13, 14]; o.notdef_outline = True; o.desubroutinize = True
s = subset.Subsetter(o)
s.populate(unicodes=[0xE260, 0xE261, 0xE262, 0xE050, 0xE0A4, 0xE084, 0x266D, 0x266E, 0x266F, 0x2192, 0x20]); s.subset(f)
cmap = f.getBestCmap(); gs = f.getGlyphSet(); cff = f['CFF '].cff; top = cff.topDictIndex[0]
for t in f['cmap'].tables:
    t.cmap = dict(t.cmap)
def put(code, draw, width):
    name = f'text{code:04X}'
    pen = T2CharStringPen(width, gs); draw(pen)
    cs = pen.getCharString(top.Private, top.GlobalSubrs)
    top.CharStrings.charStringsIndex.append(cs); top.CharStrings.charStrings[name] = len(top.CharStrings.charStringsIndex) - 1
    top.charset.append(name); f.setGlyphOrder(top.charset)
    f['hmtx'][name] = (width, 0); f['maxp'].numGlyphs = len(top.charset)
    for t in f['cmap'].tables: t.cmap[code] = name
def from_smufl(src, scale, dy, lsb=34, rsb=26):
    g = gs[cmap[src]]
    return (lambda pen: g.draw(TransformPen(pen, (scale, 0, 0, scale, lsb, dy)))), int(g.width * scale + lsb + rsb)
put(0x266D, *from_smufl(0xE260, 1.10, 200))
put(0x266E, *from_smufl(0xE261, 0.98, 335))
put(0x266F, *from_smufl(0xE262, 0.98, 335))
def arrow(pen):
    y, t, l, r, h = 238, 33, 60, 640, 150
    def poly(*p):
        pen.moveTo(p[0]); [pen.lineTo(q) for q in p[1:]]; pen.closePath()
    poly((l, y - t), (r - 60, y - t), (r - 60, y + t), (l, y + t))
    poly((r - 190, y + h + 20), (r - 232, y + h - 24), (r - 68, y), (r - 232, y - h + 24), (r - 190, y - h - 20), (r + 16, y))
put(0x2192, arrow, 700)
n = f['name']
for i, v in ((1, 'Linekeeper Signs'), (2, 'Regular'), (4, 'Linekeeper Signs'), (6, 'LinekeeperSigns')): n.setName(v, i, 3, 1, 0x409)
cff.fontNames = ['LinekeeperSigns']
h, w = f['hhea'], f['OS/2']
h.ascent, h.descent, h.lineGap = 1000, -300, 0; w.sTypoAscender, w.sTypoDescender, w.sTypoLineGap = 1000, -300, 0; w.usWinAscent, w.usWinDescent = 1000, 300; w.sCapHeight = 670
f.flavor = 'woff2'; f.save('src/renderer/look/signs.woff2')
