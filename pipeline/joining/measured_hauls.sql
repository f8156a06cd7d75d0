-- One row per haul: the rig version in force and everything that is compared between rigs.
-- What a person said of the damage comes first, then the columns, then the note.
with

told as (
    select
        hauls.row,
        case
            when review.damaged is not null then 'a person'
            when hauls.damage_events is not null or hauls.damaged is not null then 'the record'
            when note_readings.damaged is not null then 'the note'
            when hauls.damage_note is null and blank_notes.mean_no_damage then 'a blank note'
            else 'nothing'
        end as damage_told_by,
        case
            when review.damaged = 'yes' then coalesce(nullif(hauls.damage_events, 0), 1)
            when review.damaged = 'no' then 0
            when review.damaged = 'unknown' then null
            when hauls.damage_events is not null then hauls.damage_events
            when hauls.damaged is not null then case when hauls.damaged then 1 else 0 end
            when note_readings.damaged is not null
                then case when note_readings.damaged = 'yes' then 1 else 0 end
            when hauls.damage_note is null and blank_notes.mean_no_damage then 0
        end as damage_events,
        coalesce(review.mending_hours, hauls.mending_hours) as mending_hours,
        note_readings.mending_hours as note_mending_hours,
        coalesce(review.hours_lost, hauls.hours_lost) as hours_lost
    from hauls
    cross join blank_notes
    left join note_readings on hauls.row = note_readings.row
    left join damage_review as review
        on hauls.vessel = review.vessel
        and hauls.trip = review.trip
        and hauls.haul = review.haul
),

final as (
    select
        hauls.row,
        hauls.vessel,
        hauls.trip,
        hauls.haul,
        hauls.shot_at,
        rig_in_force.rig_version,
        hauls.ground,
        hauls.depth_m,
        hauls.tow_hours,
        told.damage_told_by,
        told.damage_events,
        case
            when told.mending_hours is not null then told.mending_hours
            when told.damage_events = 0 then 0
            when told.damage_events > 0 then told.note_mending_hours
        end as mending_hours,
        case when told.hours_lost is null and told.damage_events = 0 then 0
            else told.hours_lost
        end as hours_lost,
        hauls.debris_kg,
        haul_catches.bottom_living_kg,
        haul_catches.other_kg,
        haul_catches.value
    from hauls
    inner join rig_in_force on hauls.row = rig_in_force.row
    inner join told on hauls.row = told.row
    left join haul_catches on hauls.row = haul_catches.row
)

select * from final
