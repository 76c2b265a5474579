create table instrument_scpi (
  instrument_id bigint primary key references instrument (id),
  host varchar(253) not null,
  port integer not null,
  connect_timeout_s double precision not null,
  answer_timeout_s double precision not null,
  sweep_timeout_s double precision not null,
  reference_ohm double precision not null
);

create table instrument_scpi_command (
  instrument_id bigint not null references instrument_scpi (instrument_id),
  step varchar(20) not null,
  command varchar(200) not null,
  primary key (instrument_id, step)
);
