-- One row per haul: the rig version in force and everything that is compared between rigs.
-- Mending costs what the repair was said to cost, else its hours by the hands that mended.
with

final as (
    select
        hauls.row,
        hauls.vessel,
        hauls.trip,
        hauls.haul,
        hauls.shot_at,
        rig_in_force.rig_version,
        hauls.ground,
        hauls.net_side,
        hauls.depth_m,
        hauls.tow_hours,
        damage_told.damage_told_by,
        damage_told.damage_events,
        damage_told.mending_hours,
        damage_told.hours_lost,
        case
            when damage_told.damage_events = 0 then 0
            when hauls.repair_cost is not null then hauls.repair_cost
            when damage_told.mending_hours = 0 then 0
            else
                damage_told.mending_hours
                * coalesce(damage_told.hands, 1)
                * cost_rates.mending_hour
        end as mending_cost,
        hauls.debris_kg,
        haul_catches.bottom_living_kg,
        haul_catches.other_kg,
        haul_catches.value
    from hauls
    cross join cost_rates
    inner join rig_in_force on hauls.row = rig_in_force.row
    inner join damage_told on hauls.row = damage_told.row
    left join haul_catches on hauls.row = haul_catches.row
)

select * from final
