-- No row: the browser's language, millimetres.
create table person_preference (
  person_id bigint primary key references person (id),
  language varchar(10),
  length_unit varchar(10) not null
);
