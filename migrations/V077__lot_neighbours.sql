create index assembly_lot_id on assembly (cable_lot, id);
drop index assembly_lot;
