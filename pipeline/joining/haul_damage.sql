-- One row per haul: what happened to the net, why, and what it cost, with the note behind it.
-- The cost of damage is that of mending and of the hours lost to it; null where either is not known,
-- but for what the whole season does not know: then it is the other alone. Of a haul of which nobody
-- knows whether it did damage no cost of it stands here.
with

season_knows as (
    select
        max(case when damage_events > 0 then mending_cost end) is not null as mending_cost,
        max(case when damage_events > 0 then hours_lost * hour_worth.hour_worth end) is not null
            as lost_cost
    from measured_hauls
    cross join hour_worth
),

costs as (
    select
        measured_hauls.row,
        measured_hauls.damage_events is not null as known_damage,
        case when season_knows.mending_cost then measured_hauls.mending_cost else 0 end
            as mending_cost,
        case
            when season_knows.lost_cost then measured_hauls.hours_lost * hour_worth.hour_worth
            else 0
        end as lost_cost,
        season_knows.mending_cost or season_knows.lost_cost as known
    from measured_hauls
    cross join hour_worth
    cross join season_knows
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
        case when costs.known_damage then measured_hauls.mending_hours end as mending_hours,
        case when costs.known_damage then damage_told.hands end as hands,
        case when costs.known_damage then measured_hauls.hours_lost end as hours_lost,
        case when costs.known_damage then measured_hauls.mending_cost end as mending_cost,
        case
            when costs.known_damage and costs.known then costs.mending_cost + costs.lost_cost
        end as damage_cost,
        damage_told.damage_note
    from measured_hauls
    inner join damage_told on measured_hauls.row = damage_told.row
    inner join costs on measured_hauls.row = costs.row
)

select * from final
