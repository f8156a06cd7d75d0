-- One row per rig version and ground: hauls, trips, boats and hours, whatever was recorded of them.
with

final as (
    select
        rig_version,
        ground,
        count(*) as hauls,
        count(distinct concat(vessel, '/', trip)) as trips,
        count(distinct vessel) as vessels,
        sum(tow_hours) as tow_hours
    from measured_hauls
    group by rig_version, ground
)

select * from final
order by rig_version, ground
