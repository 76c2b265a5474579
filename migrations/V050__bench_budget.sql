create table bench_budget (
  bench_id bigint not null references bench (id),
  way varchar(12) not null,
  instrument_magnitude_db double precision,
  connector_deg double precision not null,
  flexure_deg double precision not null,
  temperature_c double precision not null,
  primary key (bench_id, way)
);

alter table bench add column reference_cable_type_id bigint references cable_type (id);
alter table bench add column reference_cable_length_mm double precision;
