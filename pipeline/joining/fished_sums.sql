-- One row per trip and pattern of factors: all hauls and the hours towed, whatever was recorded of
-- them. By these it is known whether two rigs were fished side by side at all.
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
    group by measured_hauls.vessel, measured_hauls.trip, haul_patterns.pattern
)

select * from final
order by vessel, trip, pattern
