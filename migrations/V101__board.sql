-- The board counts by order and state, and what a person had before them last.
create index assembly_order_state on assembly (work_order_id, state);
create index bench_visit_person on bench_visit (person, at);
