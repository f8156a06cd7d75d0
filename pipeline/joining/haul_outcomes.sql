-- One row per haul and outcome that was recorded: how much of it there was.
-- An outcome of which the whole record has none was not kept; of damage, none is an answer.
with

all_outcomes as (
    select row, 'damage_events' as outcome, cast(damage_events as double) as amount
    from measured_hauls
    union all
    select
        measured_hauls.row,
        'mending_hours' as outcome,
        measured_hauls.mending_hours as amount
    from measured_hauls
    inner join boat_records on measured_hauls.vessel = boat_records.vessel
    where boat_records.keeps_mending_hours
    union all
    select
        measured_hauls.row,
        'hours_lost' as outcome,
        measured_hauls.hours_lost as amount
    from measured_hauls
    inner join boat_records on measured_hauls.vessel = boat_records.vessel
    where boat_records.keeps_hours_lost
    union all
    select
        measured_hauls.row,
        'mending_cost' as outcome,
        measured_hauls.mending_cost as amount
    from measured_hauls
    inner join boat_records on measured_hauls.vessel = boat_records.vessel
    where boat_records.keeps_mending_cost
    union all
    select row, 'damage_cost' as outcome, damage_cost as amount from haul_damage
    union all
    select row, 'debris_kg' as outcome, debris_kg as amount from measured_hauls
    union all
    select row, 'bottom_living_kg' as outcome, bottom_living_kg as amount from measured_hauls
    union all
    select row, 'other_kg' as outcome, other_kg as amount from measured_hauls
    union all
    select row, 'value' as outcome, value as amount from measured_hauls
    union all
    select row, concat('kg:', species) as outcome, kg as amount from haul_species
),

kept_outcomes as (
    select outcome
    from all_outcomes
    group by outcome
    having sum(amount) > 0 or (outcome = 'damage_events' and count(amount) > 0)
),

final as (
    select all_outcomes.*
    from all_outcomes
    inner join kept_outcomes on all_outcomes.outcome = kept_outcomes.outcome
    where all_outcomes.amount is not null
)

select * from final
