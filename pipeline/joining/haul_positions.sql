-- One row per haul whose position was recorded: where it was shot, with which rig, and whether the
-- net was damaged; blank where nobody knows.
with

final as (
    select
        measured_hauls.row,
        measured_hauls.rig_version,
        hauls.latitude,
        hauls.longitude,
        measured_hauls.damage_events > 0 as damaged
    from measured_hauls
    inner join hauls on measured_hauls.row = hauls.row
    where
        hauls.latitude is not null
        and hauls.longitude is not null
        and measured_hauls.rig_version is not null
)

select * from final
order by row
