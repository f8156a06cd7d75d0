-- One row per length check and section: the lengths, and the fishing hours that came before it.
-- A check that has a day and no time is taken to be made before the hauls of that day.
-- `from_fitting` says that the record has the rig's life on this boat from its first fitting:
-- a fitting is recorded, and neither a haul nor a check came before it. A rig that was made of one
-- which the boat had fished by then brought its chain along, as long as that had become.
with

hours_before as (
    select
        length_checks.row,
        max(fishing_hours.hours_to_date) as hours
    from length_checks
    inner join fishing_hours
        on length_checks.vessel = fishing_hours.vessel
        and length_checks.rig_version = fishing_hours.rig_version
        and fishing_hours.shot_at < length_checks.checked_on
    group by length_checks.row
),

first_fittings as (
    select
        vessel,
        rig_version,
        min(fitted_from) as fitted_from
    from fittings
    group by vessel, rig_version
),

first_hauls as (
    select
        vessel,
        rig_version,
        min(shot_at) as shot_at
    from fishing_hours
    group by vessel, rig_version
),

first_checks as (
    select
        vessel,
        rig_version,
        min(checked_on) as checked_on
    from length_checks
    group by vessel, rig_version
),

brought_along as (
    select distinct
        first_fittings.vessel,
        first_fittings.rig_version
    from first_fittings
    inner join rig_versions
        on first_fittings.rig_version = rig_versions.rig_version
    inner join first_hauls
        on first_fittings.vessel = first_hauls.vessel
        and rig_versions.changed_from = first_hauls.rig_version
    where first_hauls.shot_at < first_fittings.fitted_from
),

known_from_fitting as (
    select
        first_fittings.vessel,
        first_fittings.rig_version
    from first_fittings
    inner join first_checks
        on first_fittings.vessel = first_checks.vessel
        and first_fittings.rig_version = first_checks.rig_version
    left join first_hauls
        on first_fittings.vessel = first_hauls.vessel
        and first_fittings.rig_version = first_hauls.rig_version
    left join brought_along
        on first_fittings.vessel = brought_along.vessel
        and first_fittings.rig_version = brought_along.rig_version
    where
        brought_along.vessel is null
        and cast(first_checks.checked_on as date) >= cast(first_fittings.fitted_from as date)
        and coalesce(first_hauls.shot_at >= first_fittings.fitted_from, true)
),

final as (
    select
        length_checks.vessel,
        length_checks.rig_version,
        length_checks.checked_on,
        length_checks.section,
        coalesce(hours_before.hours, 0) as hours,
        length_checks.ground_chain_m,
        length_checks.traveller_m,
        length_checks.evened,
        known_from_fitting.vessel is not null as from_fitting
    from length_checks
    left join hours_before on length_checks.row = hours_before.row
    left join known_from_fitting
        on length_checks.vessel = known_from_fitting.vessel
        and length_checks.rig_version = known_from_fitting.rig_version
)

select * from final
