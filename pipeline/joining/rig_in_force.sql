-- One row per haul: its own rig version, the one fitted on the boat, and the one in force.
with

fitted as (
    select
        hauls.row,
        fittings.rig_version
    from hauls
    inner join fittings
        on hauls.vessel = fittings.vessel
        and hauls.shot_at >= fittings.fitted_from
        and (fittings.fitted_to is null or hauls.shot_at < fittings.fitted_to)
),

final as (
    select
        hauls.row,
        hauls.rig_version as own,
        fitted.rig_version as fitted,
        coalesce(hauls.rig_version, fitted.rig_version) as rig_version
    from hauls
    left join fitted on hauls.row = fitted.row
)

select * from final
