-- One row that the health check writes, since a full disk still lets everything be read.
create table write_probe (
  id integer primary key,
  written_at timestamp with time zone not null,
  constraint write_probe_one_row check (id = 1)
);
insert into write_probe (id, written_at) values (1, current_timestamp);
