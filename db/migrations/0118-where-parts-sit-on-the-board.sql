-- Where each part sits on the board of a design, as the file for the fabrication house says it: in micrometres, seen from the top.
CREATE TABLE placement (
  design_key TEXT NOT NULL CHECK (length(design_key) BETWEEN 1 AND 40),
  designator TEXT NOT NULL CHECK (length(designator) BETWEEN 1 AND 20),
  x_um INTEGER NOT NULL,
  y_um INTEGER NOT NULL,
  side TEXT NOT NULL CHECK (side IN ('top', 'bottom')),
  rotation REAL NOT NULL,
  PRIMARY KEY (design_key, designator)
) STRICT;
