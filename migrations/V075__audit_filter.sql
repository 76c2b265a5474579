-- The log is read newest first, by one of these at a time; the key alone nearly always tells the kind.
drop index audit_entry_subject;
create index audit_entry_key on audit_entry (subject_key, id);
create index audit_entry_kind on audit_entry (subject_type, id);
create index audit_entry_action on audit_entry (action, id);
create index audit_entry_at on audit_entry (at);
