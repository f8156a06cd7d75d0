-- haul_length_differences
-- One row per haul of `fishing_hours`: ground chain longer than traveller at its middle, in percent.
-- By the line that is fitted to all checks of the rig on the boat: so much per fishing hour from an
-- even start, or from the level of its own checks where a spell did not start even. After the last
-- check the line goes on for 100 hours (own judgement, no source).
with

wholes as (
    select *
    from length_differences
    where section = 'whole'
),

rates as (
    select
        vessel,
        rig_version,
        percent_per_100_hours / 100 as percent_per_hour
    from stretch
    where section = 'whole' and percent_per_100_hours is not null
),

checked_spells as (
    select
        vessel,
        rig_version,
        spell,
        bool_or(starts_even) as starts_even,
        bool_or(ends_spell) as ends_spell,
        min(hours - hours_in_spell) as start_hours,
        min(hours) as first_hours,
        max(hours) as last_hours,
        avg(case when difference_percent is not null then hours end) as mean_hours,
        avg(difference_percent) as mean_percent
    from wholes
    group by vessel, rig_version, spell
),

last_checks as (
    select
        vessel,
        rig_version,
        hours,
        ends_spell and evened as is_even_since,
        row_number() over (
            partition by vessel, rig_version order by checked_on desc
        ) as checks_later
    from wholes
),

spells_begun as (
    select
        vessel,
        rig_version,
        hours
    from last_checks
    where checks_later = 1 and is_even_since
),

lines as (
    select
        checked_spells.vessel,
        checked_spells.rig_version,
        case
            when checked_spells.starts_even then checked_spells.start_hours
            else checked_spells.first_hours
        end as from_hours,
        case
            when checked_spells.ends_spell then checked_spells.last_hours
            else checked_spells.last_hours + 100
        end as until_hours,
        case
            when checked_spells.starts_even then 0
            else checked_spells.mean_percent
                - rates.percent_per_hour * (checked_spells.mean_hours - checked_spells.first_hours)
        end as from_percent,
        rates.percent_per_hour
    from checked_spells
    inner join rates
        on checked_spells.vessel = rates.vessel
        and checked_spells.rig_version = rates.rig_version
    union all
    select
        spells_begun.vessel,
        spells_begun.rig_version,
        spells_begun.hours as from_hours,
        spells_begun.hours + 100 as until_hours,
        0 as from_percent,
        rates.percent_per_hour
    from spells_begun
    inner join rates
        on spells_begun.vessel = rates.vessel
        and spells_begun.rig_version = rates.rig_version
),

haul_middles as (
    select
        row,
        vessel,
        rig_version,
        hours_to_date - tow_hours / 2 as hours
    from fishing_hours
),

final as (
    select
        haul_middles.row,
        lines.from_percent + lines.percent_per_hour * (haul_middles.hours - lines.from_hours)
            as length_difference_percent
    from haul_middles
    left join lines
        on haul_middles.vessel = lines.vessel
        and haul_middles.rig_version = lines.rig_version
        and haul_middles.hours > lines.from_hours
        and haul_middles.hours <= lines.until_hours
)

select * from final
