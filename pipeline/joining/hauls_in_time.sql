-- One row per dated haul, boat by boat in the order of time: what the days about a change of rig are
-- held side by side by. Of a haul that recorded nothing of an outcome, the outcome is blank.
with

final as (
    select
        vessel,
        trip,
        haul,
        shot_at,
        rig_version,
        ground,
        net_side,
        depth_m,
        tow_hours,
        cast(damage_events as double) as damage_events,
        bottom_living_kg
    from measured_hauls
    where shot_at is not null and rig_version is not null
)

select * from final
order by vessel, shot_at, trip, haul
