-- One row per haul: what is known of damage to the net, and by whom it was told.
-- What a person said of a note comes first, then the columns, then the note as it was read.
-- A person who read a note has read the whole of it: blanks of that row are then not told, the
-- reading of the program is passed over. The note is the one that the person read.
-- Where a blank note means no damage, so does one that says nothing of the net and costs nothing.
-- Without damage nothing was mended and no hour was lost to it, whatever else took its time.
-- How often a haul was damaged counts where the record counts: where a number told of nine damaged
-- hauls in ten, and hauls damaged more than once are at least half as many as chance would make of
-- hauls alike (of a share p of hauls with damage, a share p + (1 - p) ln(1 - p), by Poisson's law;
-- hauls that differ would have more). Else it is a record of yes or no, and every haul has damage
-- once at most. The nine tenths and the half are own judgement; no source.
with

silence as (
    select
        hauls.row,
        case
            when hauls.damage_note is null then 'a blank note'
            when
                note_readings.silent
                and coalesce(hauls.mending_hours, 0) = 0 and coalesce(hauls.repair_cost, 0) = 0
                then 'a silent note'
        end as told_by
    from hauls
    inner join haul_seasons on hauls.row = haul_seasons.row
    inner join blank_notes on haul_seasons.season = blank_notes.season
    left join note_readings on hauls.row = note_readings.row
    where blank_notes.mean_no_damage
),

told as (
    select
        hauls.row,
        coalesce(review.note_read, hauls.damage_note) as damage_note,
        review.who,
        review.reviewed_on,
        coalesce(review.says_damaged, false) as reviewed,
        case
            when review.damaged is not null then 'a person'
            when hauls.damage_events is not null or hauls.damaged is not null then 'the record'
            when review.says_damaged then 'a person'
            when note_readings.damaged is not null then 'the note'
            else coalesce(silence.told_by, 'nothing')
        end as damage_told_by,
        case
            when review.damaged = 'yes' then coalesce(nullif(hauls.damage_events, 0), 1)
            when review.damaged = 'no' then 0
            when review.damaged = 'unknown' then null
            when hauls.damage_events is not null then hauls.damage_events
            when hauls.damaged is not null then case when hauls.damaged then 1 else 0 end
            when review.says_damaged then null
            when note_readings.damaged is not null
                then case when note_readings.damaged = 'yes' then 1 else 0 end
            when silence.told_by is not null then 0
        end as damage_events,
        coalesce(hauls.damage_events, 0) > 0 as counted,
        case
            when review.says_damaged then review.parts
            else coalesce(review.parts, note_readings.parts)
        end as parts,
        case
            when review.says_damaged then review.side
            else coalesce(review.side, note_readings.side)
        end as side,
        case
            when review.says_damaged then review.cause
            else coalesce(review.cause, note_readings.cause)
        end as cause,
        coalesce(review.mending_hours, hauls.mending_hours) as mending_hours,
        note_readings.mending_hours as note_mending_hours,
        coalesce(review.hands, hauls.hands) as hands,
        note_readings.hands as note_hands,
        coalesce(review.hours_lost, hauls.hours_lost) as hours_lost,
        note_readings.hours_lost as note_hours_lost
    from hauls
    left join silence on hauls.row = silence.row
    left join note_readings on hauls.row = note_readings.row
    left join damage_review as review
        on hauls.vessel = review.vessel
        and hauls.trip = review.trip
        and hauls.haul = review.haul
),

shares as (
    select
        count(*) as hauls,
        sum(case when damage_events > 0 then 1.0 else 0.0 end) as damaged,
        sum(case when damage_events > 0 and counted then 1.0 else 0.0 end) as counted,
        sum(case when damage_events > 1 then 1.0 else 0.0 end) as more_than_once
    from told
    where damage_events is not null
),

record as (
    select
        counted >= 0.9 * damaged
        and more_than_once >= 0.5 * (
            damaged
            + case
                when damaged < hauls then (hauls - damaged) * ln((hauls - damaged) / hauls)
                else 0
            end
        ) as counts
    from shares
),

final as (
    select
        row,
        damage_note,
        damage_told_by,
        who as read_by,
        reviewed_on,
        case when damage_events > 1 and not record.counts then 1 else damage_events end
            as damage_events,
        case when damage_events > 0 then parts end as parts,
        case when damage_events > 0 then side end as side,
        case when damage_events > 0 then cause end as cause,
        case
            when damage_events = 0 then 0
            when damage_events is null and reviewed then null
            when mending_hours is not null then mending_hours
            when damage_events > 0 and not reviewed then note_mending_hours
        end as mending_hours,
        case
            when damage_events = 0 or damage_events is null and reviewed then null
            when hands is not null then hands
            when damage_events > 0 and not reviewed then note_hands
        end as hands,
        case
            when damage_events = 0 then 0
            when damage_events is null and reviewed then null
            when hours_lost is not null then hours_lost
            when damage_events > 0 and not reviewed then note_hours_lost
        end as hours_lost
    from told
    cross join record
)

select * from final
