-- One row per haul and outcome that was recorded: how much of it there was.
-- An outcome of which the whole record has none was not kept; of damage, none is an answer.
-- What a tear cost counts for those that it stands for; where a rig's tears on a boat have nobody to
-- stand for them, that boat's hauls with that rig say nothing of what tears cost.
with

cost_hauls as (
    select
        measured_hauls.*,
        boat_records.keeps_mending_hours,
        boat_records.keeps_hours_lost,
        boat_records.keeps_mending_cost,
        case when mending.vessel is null then 1 else mending.stands_for end as mending_stands_for,
        case when lost.vessel is null then 1 else lost.stands_for end as lost_stands_for,
        case when cost.vessel is null then 1 else cost.stands_for end as cost_stands_for
    from measured_hauls
    inner join boat_records on measured_hauls.vessel = boat_records.vessel
    left join stand_ins as mending
        on measured_hauls.vessel = mending.vessel
        and measured_hauls.rig_version = mending.rig_version
        and mending.outcome = 'mending_hours'
    left join stand_ins as lost
        on measured_hauls.vessel = lost.vessel
        and measured_hauls.rig_version = lost.rig_version
        and lost.outcome = 'hours_lost'
    left join stand_ins as cost
        on measured_hauls.vessel = cost.vessel
        and measured_hauls.rig_version = cost.rig_version
        and cost.outcome = 'mending_cost'
),

all_outcomes as (
    select row, 'damage_events' as outcome, cast(damage_events as double) as amount
    from measured_hauls
    union all
    select row, 'mending_hours' as outcome, mending_hours * mending_stands_for as amount
    from cost_hauls
    where keeps_mending_hours
    union all
    select row, 'hours_lost' as outcome, hours_lost * lost_stands_for as amount
    from cost_hauls
    where keeps_hours_lost
    union all
    select row, 'mending_cost' as outcome, mending_cost * cost_stands_for as amount
    from cost_hauls
    where keeps_mending_cost
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
