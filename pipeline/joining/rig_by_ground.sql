-- One row per rig version and ground: hauls, those of them marked foul, trips, boats and hours,
-- whatever was recorded of them.
with

final as (
    select
        measured_hauls.rig_version,
        measured_hauls.ground,
        count(*) as hauls,
        count(case when not hauls.valid then 1 end) as foul_tows,
        count(distinct concat(hauls.vessel, '/', hauls.trip)) as trips,
        count(distinct hauls.vessel) as vessels,
        sum(hauls.tow_hours) as tow_hours
    from measured_hauls
    inner join hauls on measured_hauls.row = hauls.row
    group by measured_hauls.rig_version, measured_hauls.ground
)

select * from final
order by rig_version, ground
