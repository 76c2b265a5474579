-- The log is read newest first, by one of these at a time; the key alone nearly always tells the kind.
-- Descending, since H2 reads an index in its own order only.
drop index audit_entry_actor;
drop index audit_entry_subject;
create index audit_entry_actor on audit_entry (actor, id desc);
create index audit_entry_key on audit_entry (subject_key, id desc);
create index audit_entry_kind on audit_entry (subject_type, id desc);
create index audit_entry_action on audit_entry (action, id desc);
create index audit_entry_at on audit_entry (at);
