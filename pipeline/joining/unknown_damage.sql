-- One row per trip and pattern of factors: the hauls of which nobody knows if the net was damaged.
with

final as (
    select
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern,
        count(*) as hauls,
        sum(measured_hauls.tow_hours) as tow_hours
    from measured_hauls
    inner join haul_patterns on measured_hauls.row = haul_patterns.row
    where measured_hauls.damage_events is null
    group by
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern
)

select * from final
order by vessel, trip, pattern
