alter table work_order add column cut_standard_uncertainty_mm double precision default 0 not null;
alter table work_order add column too_short_limit double precision default 0.02 not null;
alter table work_order add column temperature_low_c double precision;
alter table work_order add column temperature_high_c double precision;
alter table specification_frequency add column insertion_loss_spread_db double precision;
alter table assembly add column cable_lot varchar(40) default '' not null;
create index assembly_lot on assembly (cable_lot);
