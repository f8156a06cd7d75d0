-- One row per dated haul of which the damage is known: from and to which fishing hour of its boat's
-- set of the rig version it went, how far that set was fished in all, last hauls of unknown damage
-- with it, and the mending hours, blank where nobody wrote what it took.
-- Boats that don't write mending hours are left out whole: their damage is no damage without mending.
with

lives as (
    select
        row,
        hours_to_date as hours_to,
        max(hours_to_date) over (partition by vessel, rig_version) as life_hours,
        lag(hours_to_date) over (
            partition by vessel, rig_version
            order by shot_at, row
        ) as hours_before
    from fishing_hours
),

told as (
    select
        row,
        vessel,
        trip,
        rig_version,
        coalesce(damage_events > 0, mending_hours > 0) as damaged,
        mending_hours
    from measured_hauls
),

final as (
    select
        told.row,
        told.vessel,
        told.trip,
        told.rig_version,
        coalesce(lives.hours_before, 0) as hours_from,
        lives.hours_to,
        lives.life_hours,
        told.damaged,
        case when told.damaged then told.mending_hours else 0 end as mending_hours
    from told
    inner join lives on told.row = lives.row
    inner join boat_records on told.vessel = boat_records.vessel
    where told.damaged is not null and boat_records.keeps_mending_hours
)

select * from final
order by row
