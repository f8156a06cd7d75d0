-- One row per damaged haul and cause that its damage names.
with

named as (
    select
        haul_damage.row,
        haul_damage.rig_version,
        haul_damage.ground,
        trim(split_part(haul_damage.cause, ';', list_places.place)) as cause,
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
        named.cause,
        named.tow_hours
    from named
    where named.cause <> ''
)

select * from final
