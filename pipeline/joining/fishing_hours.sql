-- One row per dated haul with a rig in force: the boat's fishing hours with that rig version so far.
-- A boat is taken to have one set of each rig version, so the hours go on when it is fitted again.
with

dated as (
    select
        hauls.row,
        hauls.vessel,
        rig_in_force.rig_version,
        hauls.shot_at,
        hauls.tow_hours
    from hauls
    inner join rig_in_force on hauls.row = rig_in_force.row
    where rig_in_force.rig_version is not null and hauls.shot_at is not null
),

final as (
    select
        row,
        vessel,
        rig_version,
        shot_at,
        tow_hours,
        sum(tow_hours) over (
            partition by vessel, rig_version
            order by shot_at, row
            rows between unbounded preceding and current row
        ) as hours_to_date
    from dated
)

select * from final
