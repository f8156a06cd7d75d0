-- One row per damaged haul and amount that could have been written of it: hours and cost of damage.
with

final as (
    select row, 'mending_hours' as outcome, mending_hours as amount
    from measured_hauls
    where damage_events > 0
    union all
    select row, 'hours_lost' as outcome, hours_lost as amount
    from measured_hauls
    where damage_events > 0
    union all
    select row, 'mending_cost' as outcome, mending_cost as amount
    from measured_hauls
    where damage_events > 0
)

select * from final
