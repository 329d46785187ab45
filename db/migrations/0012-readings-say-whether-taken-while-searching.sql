-- A reading whose needs were waived to find a fault is evidence of the fault, and no part of the certificate.
ALTER TABLE reading ADD COLUMN while_searching INTEGER NOT NULL DEFAULT 0 CHECK (while_searching IN (0, 1));
