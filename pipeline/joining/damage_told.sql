-- One row per haul: what is known of damage to the net, and by whom it was told.
-- What a person said of a note comes first, then the columns, then the note as it was read.
-- A person who said whether there was damage has read the whole note: blanks are then not told.
-- Without damage nothing was mended and no hour was lost to it, whatever else took its time.
with

told as (
    select
        hauls.row,
        hauls.damage_note,
        review.who,
        review.reviewed_on,
        review.damaged is not null as reviewed,
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
        case
            when review.damaged is null then coalesce(review.parts, note_readings.parts)
            else review.parts
        end as parts,
        case
            when review.damaged is null then coalesce(review.side, note_readings.side)
            else review.side
        end as side,
        case
            when review.damaged is null then coalesce(review.cause, note_readings.cause)
            else review.cause
        end as cause,
        coalesce(review.mending_hours, hauls.mending_hours) as mending_hours,
        note_readings.mending_hours as note_mending_hours,
        coalesce(review.hands, hauls.hands) as hands,
        note_readings.hands as note_hands,
        coalesce(review.hours_lost, hauls.hours_lost) as hours_lost,
        note_readings.hours_lost as note_hours_lost
    from hauls
    inner join haul_seasons on hauls.row = haul_seasons.row
    inner join blank_notes on haul_seasons.season = blank_notes.season
    left join note_readings on hauls.row = note_readings.row
    left join damage_review as review
        on hauls.vessel = review.vessel
        and hauls.trip = review.trip
        and hauls.haul = review.haul
),

final as (
    select
        row,
        damage_note,
        damage_told_by,
        who as read_by,
        reviewed_on,
        damage_events,
        case when damage_events > 0 then parts end as parts,
        case when damage_events > 0 then side end as side,
        case when damage_events > 0 then cause end as cause,
        case
            when damage_events = 0 then 0
            when mending_hours is not null then mending_hours
            when damage_events > 0 and not reviewed then note_mending_hours
        end as mending_hours,
        case
            when hands is not null then hands
            when damage_events > 0 and not reviewed then note_hands
        end as hands,
        case
            when damage_events = 0 then 0
            when hours_lost is not null then hours_lost
            when damage_events > 0 and not reviewed then note_hours_lost
        end as hours_lost
    from told
)

select * from final
