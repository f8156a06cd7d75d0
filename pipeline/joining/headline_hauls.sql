-- One row per haul and headline outcome that was recorded: what single hauls are needed for.
-- `catch_kg` is all fish of the haul, by which the heaviest hauls are known.
with

final as (
    select
        haul_outcomes.outcome,
        measured_hauls.vessel,
        measured_hauls.trip,
        measured_hauls.haul,
        measured_hauls.shot_at,
        measured_hauls.ground,
        measured_hauls.tow_hours,
        measured_hauls.bottom_living_kg + measured_hauls.other_kg as catch_kg,
        haul_patterns.pattern,
        haul_outcomes.amount
    from haul_outcomes
    inner join headline_outcomes on haul_outcomes.outcome = headline_outcomes.outcome
    inner join measured_hauls on haul_outcomes.row = measured_hauls.row
    inner join haul_patterns on haul_outcomes.row = haul_patterns.row
)

select * from final
order by outcome, vessel, trip, haul
