-- One row per haul of `fishing_hours`: ground chain longer than traveller at its middle, in percent.
-- Straight lines in fishing hours run from 0 at an evening, or at the first fitting, from check to
-- check. After the last check the last line goes on for 100 hours (own judgement, no source).
with

wholes as (
    select *
    from length_differences
    where section = 'whole'
),

starts as (
    select distinct
        vessel,
        rig_version,
        spell,
        hours - hours_in_spell as hours,
        cast(null as double) as measured_percent
    from wholes
    where starts_even
),

checks as (
    select
        vessel,
        rig_version,
        spell,
        hours,
        difference_percent as measured_percent
    from wholes
    where difference_percent is not null
),

starts_and_checks as (
    select * from starts
    union all
    select * from checks
),

-- A spell starts from 0, unless it was measured before any haul: then what was measured holds.
points as (
    select
        vessel,
        rig_version,
        spell,
        hours,
        coalesce(avg(measured_percent), 0) as percent
    from starts_and_checks
    group by vessel, rig_version, spell, hours
),

spell_ends as (
    select
        vessel,
        rig_version,
        spell,
        hours
    from wholes
    where ends_spell
),

lines as (
    select
        vessel,
        rig_version,
        spell,
        hours,
        percent,
        lag(hours) over (partition by vessel, rig_version, spell order by hours) as from_hours,
        lag(percent) over (partition by vessel, rig_version, spell order by hours) as from_percent,
        lead(hours) over (partition by vessel, rig_version, spell order by hours) as next_hours
    from points
),

lines_in_force as (
    select
        lines.vessel,
        lines.rig_version,
        lines.from_hours,
        lines.from_percent,
        (lines.percent - lines.from_percent) / (lines.hours - lines.from_hours) as percent_per_hour,
        case
            when lines.next_hours is not null then lines.hours
            when spell_ends.hours < lines.hours + 100 then spell_ends.hours
            else lines.hours + 100
        end as until_hours
    from lines
    left join spell_ends
        on lines.vessel = spell_ends.vessel
        and lines.rig_version = spell_ends.rig_version
        and lines.spell = spell_ends.spell
    where lines.from_hours is not null
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
        lines_in_force.from_percent
        + lines_in_force.percent_per_hour * (haul_middles.hours - lines_in_force.from_hours)
            as length_difference_percent
    from haul_middles
    left join lines_in_force
        on haul_middles.vessel = lines_in_force.vessel
        and haul_middles.rig_version = lines_in_force.rig_version
        and haul_middles.hours > lines_in_force.from_hours
        and haul_middles.hours <= lines_in_force.until_hours
)

select * from final
