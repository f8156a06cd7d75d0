-- One row per haul: what happened to the net, why, and what it cost, with the note behind it.
-- The cost of damage is that of mending and of the hours lost to it, as far as the boat keeps them.
with

costs as (
    select
        measured_hauls.row,
        boat_records.keeps_mending_cost,
        boat_records.keeps_hours_lost and hour_worth.hour_worth is not null as counts_hours_lost,
        case when measured_hauls.damage_events > 0 then measured_hauls.hours_lost else 0 end
            * hour_worth.hour_worth as lost_cost
    from measured_hauls
    inner join boat_records on measured_hauls.vessel = boat_records.vessel
    cross join hour_worth
),

final as (
    select
        measured_hauls.row,
        measured_hauls.vessel,
        measured_hauls.trip,
        measured_hauls.haul,
        measured_hauls.shot_at,
        measured_hauls.rig_version,
        measured_hauls.ground,
        measured_hauls.tow_hours,
        damage_told.damage_told_by,
        damage_told.read_by,
        damage_told.reviewed_on,
        measured_hauls.damage_events,
        damage_told.parts,
        damage_told.side,
        damage_told.cause,
        measured_hauls.mending_hours,
        damage_told.hands,
        measured_hauls.hours_lost,
        measured_hauls.mending_cost,
        case
            when measured_hauls.damage_events is null then null
            when costs.keeps_mending_cost and costs.counts_hours_lost
                then measured_hauls.mending_cost + costs.lost_cost
            when costs.keeps_mending_cost then measured_hauls.mending_cost
            when costs.counts_hours_lost then costs.lost_cost
        end as damage_cost,
        damage_told.damage_note
    from measured_hauls
    inner join damage_told on measured_hauls.row = damage_told.row
    inner join costs on measured_hauls.row = costs.row
)

select * from final
