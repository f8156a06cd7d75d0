-- One row per trip and rig version that was fished in it: the season as it went, boat by boat.
-- The ground is the one towed over longest; fish per hour is of the hauls that recorded their fish.
with

fished as (
    select *
    from measured_hauls
    where rig_version is not null
),

on_grounds as (
    select
        vessel,
        trip,
        rig_version,
        ground,
        sum(tow_hours) as tow_hours
    from fished
    group by vessel, trip, rig_version, ground
),

in_order_of_hours as (
    select
        vessel,
        trip,
        rig_version,
        ground,
        row_number() over (
            partition by vessel, trip, rig_version order by tow_hours desc, ground
        ) as place
    from on_grounds
),

summed as (
    select
        vessel,
        trip,
        rig_version,
        min(shot_at) as first_shot_at,
        min(row) as first_row,
        count(*) as hauls,
        sum(tow_hours) as tow_hours,
        avg(depth_m) as depth_m,
        count(damage_events) as damage_known_hauls,
        count(case when damage_events > 0 then row end) as damaged_hauls,
        cast(sum(damage_events) as bigint) as damage_events,
        sum(bottom_living_kg)
        / sum(case when bottom_living_kg is not null then tow_hours end)
            as bottom_living_kg_per_hour
    from fished
    group by vessel, trip, rig_version
),

final as (
    select
        summed.vessel,
        summed.trip,
        summed.rig_version,
        summed.first_shot_at,
        summed.first_row,
        in_order_of_hours.ground,
        summed.depth_m,
        summed.hauls,
        summed.tow_hours,
        summed.damage_known_hauls,
        summed.damaged_hauls,
        summed.damage_events,
        summed.bottom_living_kg_per_hour
    from summed
    inner join in_order_of_hours
        on summed.vessel = in_order_of_hours.vessel
        and summed.trip = in_order_of_hours.trip
        and summed.rig_version = in_order_of_hours.rig_version
        and in_order_of_hours.place = 1
)

select * from final
order by vessel, first_shot_at, first_row
