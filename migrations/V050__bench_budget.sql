create table bench_budget (
  bench_id bigint not null references bench (id),
  way varchar(12) not null,
  instrument_magnitude_db double precision,
  connector_deg double precision not null,
  flexure_deg double precision not null,
  temperature_c double precision not null,
  primary key (bench_id, way)
);
