-- What QA decided for one assembly alone.
alter table assembly add column own_line_stretcher_id bigint references line_stretcher (id);
alter table assembly add column extra_trim_mm double precision default 0 not null;
alter table assembly add column own_too_short_limit double precision;
alter table assembly add column remeasure_from timestamp with time zone;
alter table assembly add column conceded_reading_id bigint references reading (id);

-- From then on nothing of the set may change.
alter table matched_set add column released_at timestamp with time zone;
