-- After an outage something waits for everybody who bid, and for each of them it is asked what, and in which letter more of it stands.
CREATE INDEX notice_of_person ON notice (person_id);
