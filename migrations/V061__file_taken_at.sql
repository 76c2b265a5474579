alter table sweep_file add column taken_at timestamp with time zone;
