alter table reading_spot add column independent_uncertainty_deg double precision default 0 not null;
alter table reading_spot add column common_uncertainty_deg double precision default 0 not null;
update reading_spot set independent_uncertainty_deg =
  (select r.standard_uncertainty_deg from reading r where r.id = reading_spot.reading_id);
alter table reference_check add column method varchar(20) default 'TRANSMISSION' not null;
create index reading_bench on reading (bench_id, taken_at);
