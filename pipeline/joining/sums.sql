-- One row per outcome, trip and pattern of factors: hauls, those with some of it, hours, total.
-- A Poisson fit and its errors clustered by trip are the same from these sums as from single hauls.
with

final as (
    select
        haul_outcomes.outcome,
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern,
        count(*) as hauls,
        sum(case when haul_outcomes.amount > 0 then 1 else 0 end) as hauls_with_some,
        sum(measured_hauls.tow_hours) as tow_hours,
        sum(haul_outcomes.amount) as total
    from haul_outcomes
    inner join measured_hauls on haul_outcomes.row = measured_hauls.row
    inner join haul_patterns on haul_outcomes.row = haul_patterns.row
    group by
        haul_outcomes.outcome,
        measured_hauls.vessel,
        measured_hauls.trip,
        haul_patterns.pattern
)

select * from final
order by outcome, vessel, trip, pattern
