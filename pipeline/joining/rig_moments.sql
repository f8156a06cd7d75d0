-- One row per boat, rig version and moment of its life, in fishing hours: its lengths were checked,
-- or made even again, or it was changed into a further version.
-- The change is taken to be when the boat first had the further version, fitted or fished. Where it
-- fished the one before again after that, the two are two gears, and neither was changed.
with

checks as (
    select
        vessel,
        rig_version,
        checked_on as moment,
        case when max(case when evened then 1 else 0 end) = 1 then 'evened' else 'checked' end
            as kind,
        max(hours) as hours,
        cast(null as varchar) as changed_to
    from checked_lengths
    group by vessel, rig_version, checked_on
),

beginnings as (
    select vessel, rig_version, fitted_from as moment from fittings
    union all
    select vessel, rig_version, shot_at as moment from fishing_hours
),

first_had as (
    select vessel, rig_version, min(moment) as moment
    from beginnings
    group by vessel, rig_version
),

changes as (
    select
        first_had.vessel,
        rig_versions.changed_from as rig_version,
        first_had.moment,
        'changed' as kind,
        max(fishing_hours.hours_to_date) as hours,
        rig_versions.rig_version as changed_to
    from rig_versions
    inner join first_had on rig_versions.rig_version = first_had.rig_version
    inner join fishing_hours
        on rig_versions.changed_from = fishing_hours.rig_version
        and first_had.vessel = fishing_hours.vessel
    where rig_versions.changed_from <> rig_versions.rig_version
    group by
        first_had.vessel,
        rig_versions.changed_from,
        first_had.moment,
        rig_versions.rig_version
    having max(fishing_hours.shot_at) < first_had.moment
),

moments as (
    select * from checks
    union all
    select * from changes
),

final as (
    select vessel, rig_version, moment, kind, hours, changed_to
    from moments
)

select * from final
order by rig_version, vessel, moment, kind, changed_to
