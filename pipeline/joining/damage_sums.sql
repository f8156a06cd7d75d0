-- One row per amount, trip and pattern of factors: what the damage cost that hauls wrote down.
-- Beside `sums` it says how much when, where those say how often: only hauls with damage count, of
-- boats that keep the amount, and each for itself alone.
with

kept as (
    select told_amounts.*
    from told_amounts
    inner join measured_hauls on told_amounts.row = measured_hauls.row
    inner join boat_records on measured_hauls.vessel = boat_records.vessel
    where
        told_amounts.amount is not null
        and case
            when told_amounts.outcome = 'mending_hours' then boat_records.keeps_mending_hours
            when told_amounts.outcome = 'hours_lost' then boat_records.keeps_hours_lost
            else boat_records.keeps_mending_cost
        end
),

with_some as (
    select outcome
    from kept
    group by outcome
    having sum(amount) > 0
),

final as (
    select
        kept.outcome,
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern,
        count(*) as hauls,
        sum(case when kept.amount > 0 then 1 else 0 end) as hauls_with_some,
        cast(sum(measured_hauls.damage_events) as double) as events,
        sum(kept.amount) as total
    from kept
    inner join with_some on kept.outcome = with_some.outcome
    inner join measured_hauls on kept.row = measured_hauls.row
    inner join haul_patterns on kept.row = haul_patterns.row
    group by
        kept.outcome,
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern
)

select * from final
order by outcome, vessel, trip, pattern
