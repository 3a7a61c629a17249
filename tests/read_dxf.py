"""Reads a DXF file with a general library and says what it found, for test_cuts.c.

Prints: version, $INSUNITS, errors of the audit, closed outlines to cut, texts, and the box of all
outlines in millimetres. Prints nothing where the library is not installed.
"""
import sys

try:
    import ezdxf
except ImportError:
    sys.exit(0)

drawing = ezdxf.readfile(sys.argv[1])
audit = drawing.audit()
lines = drawing.modelspace().query("LWPOLYLINE")
cuts = [line for line in lines if line.dxf.layer == "CUT" and line.closed]
xs = [point[0] for line in cuts for point in line.get_points("xy")]
ys = [point[1] for line in cuts for point in line.get_points("xy")]
print(drawing.dxfversion, drawing.header["$INSUNITS"], len(audit.errors) + len(audit.fixes),
      len(cuts), len(drawing.modelspace().query("TEXT")),
      *(f"{value:.3f}" for value in (min(xs), min(ys), max(xs), max(ys))))
