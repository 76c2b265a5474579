alter table reading_spot add column instrument_uncertainty_deg double precision default 0 not null;
alter table reading_spot add column connector_uncertainty_deg double precision default 0 not null;
alter table reading_spot add column flexure_uncertainty_deg double precision default 0 not null;
alter table reading_spot add column temperature_uncertainty_deg double precision default 0 not null;
update reading_spot set instrument_uncertainty_deg =
  (select r.standard_uncertainty_deg from reading r where r.id = reading_spot.reading_id);
alter table reading add column worst_residual_hz double precision;
alter table reading add column worst_residual_deg double precision;
alter table reference_check add column method varchar(20) default 'TRANSMISSION' not null;
create index reading_bench on reading (bench_id, taken_at);
