-- QA's own rules; one row.
create table review_setting (
  id bigint primary key check (id = 1),
  version integer not null,
  at_risk_probability double precision not null,
  fit_share double precision not null,
  calibration_days integer not null,
  two_person_concession boolean not null,
  two_person_scrap boolean not null
);

insert into review_setting values (1, 0, 0.95, 0.5, 14, true, true);
