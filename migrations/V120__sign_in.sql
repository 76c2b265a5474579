-- Attempts at passwords since the last right one; in the database, so that all instances count as one.
create table sign_in_attempt (
  counted_by varchar(10) not null,
  name varchar(100) not null,
  attempts integer not null,
  last_at timestamp with time zone not null,
  free_at timestamp with time zone not null,
  primary key (counted_by, name)
);

create index sign_in_attempt_last on sign_in_attempt (last_at);

-- What a token is good for; those made before were good for all.
alter table api_token add column scope varchar(20) default 'ALL' not null;

-- The name under which an identity provider knows the person, and whom it turned out to be there.
alter table person add column provider_name varchar(200);
alter table person add column provider_subject varchar(600);
create unique index person_provider_name on person (provider_name);
create unique index person_provider_subject on person (provider_subject);
