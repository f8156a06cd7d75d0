-- One row per damaged haul and part of the net that its damage names; the side is the haul's.
with

named as (
    select
        haul_damage.row,
        haul_damage.rig_version,
        haul_damage.ground,
        trim(split_part(haul_damage.parts, ';', list_places.place)) as part,
        haul_damage.side,
        haul_damage.tow_hours
    from haul_damage
    cross join list_places
    where haul_damage.damage_events > 0
),

final as (
    select distinct
        named.row,
        named.rig_version,
        named.ground,
        named.part,
        named.side,
        named.tow_hours
    from named
    where named.part <> ''
)

select * from final
