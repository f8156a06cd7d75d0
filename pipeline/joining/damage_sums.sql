-- One row per amount, trip and pattern of factors: what the damage cost that hauls wrote down.
-- Beside `sums` it says how much when, where those say how often: only hauls with damage count.
with

final as (
    select
        haul_outcomes.outcome,
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern,
        count(*) as hauls,
        sum(case when haul_outcomes.amount > 0 then 1 else 0 end) as hauls_with_some,
        cast(sum(measured_hauls.damage_events) as double) as events,
        sum(haul_outcomes.amount) as total
    from haul_outcomes
    inner join measured_hauls on haul_outcomes.row = measured_hauls.row
    inner join haul_patterns on haul_outcomes.row = haul_patterns.row
    where
        haul_outcomes.outcome in ('mending_hours', 'hours_lost', 'mending_cost', 'damage_cost')
        and measured_hauls.damage_events > 0
    group by
        haul_outcomes.outcome,
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern
)

select * from final
order by outcome, vessel, trip, pattern
