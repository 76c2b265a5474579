-- Sets proposed from an order's pool and not accepted yet: one draft for each order, which its
-- planners share. The row stays after acceptance, so that its version never starts again.
create table building_draft (
  work_order_id bigint primary key references work_order (id),
  version integer not null,
  standing boolean not null,
  set_size integer not null,
  rule varchar(20) not null,
  -- null for as many as there are
  wanted_sets integer,
  tolerance_percent double precision not null,
  cuts boolean not null,
  upper_bound integer not null,
  proven boolean not null,
  proposed_by varchar(80) not null,
  proposed_at timestamp with time zone not null
);

create table building_draft_position (
  work_order_id bigint not null references building_draft (work_order_id),
  ordinal integer not null,
  label varchar(40) not null,
  offset_phase_deg double precision not null,
  offset_delay_ps double precision not null,
  primary key (work_order_id, ordinal)
);

create table building_draft_member (
  work_order_id bigint not null references building_draft (work_order_id),
  assembly_id bigint not null references assembly (id),
  -- 0 for left over
  set_number integer not null,
  ordinal integer not null,
  primary key (work_order_id, assembly_id)
);
