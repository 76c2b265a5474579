alter table instruction add column cable_type_id bigint references cable_type (id);
alter table instruction add column cable_lot varchar(40) default '' not null;
alter table instruction add column staged boolean default false not null;
alter table instruction add column expected_cuts double precision;
alter table instruction add column probability_in double precision;
alter table instruction add column probability_too_short double precision;
alter table instruction_prediction add column standard_uncertainty_deg double precision;
create index instruction_lot on instruction (cable_type_id, cable_lot, state);

create table set_velocity (
  matched_set_id bigint primary key references matched_set (id),
  velocity_factor double precision not null,
  standard_uncertainty double precision not null,
  cuts integer not null,
  outliers varchar(2000) not null
);
