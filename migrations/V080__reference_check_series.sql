-- A reading's drift takes the first check of its series and the one after it, out of thousands.
create index reference_check_series
  on reference_check (bench_id, cable_serial, method, frequency_hz, taken_at, id);
