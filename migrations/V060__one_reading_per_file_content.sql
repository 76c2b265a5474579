-- Locked while a file of this content is recorded, so that two senders at once make one reading.
create table file_content (
  sha256 varchar(64) primary key
);

create index sweep_file_sha256 on sweep_file (sha256);
