-- One row per haul with a comparable catch and main species: kilos, zero where it was not caught.
with

caught as (
    select
        hauls.row,
        priced_catches.species,
        priced_catches.kg,
        1 as is_caught
    from priced_catches
    inner join hauls
        on priced_catches.vessel = hauls.vessel
        and priced_catches.trip = hauls.trip
        and priced_catches.haul = hauls.haul
),

final as (
    select
        haul_catches.row,
        main_species.species,
        case when caught.is_caught is null then 0 else caught.kg end as kg
    from haul_catches
    cross join main_species
    left join caught
        on haul_catches.row = caught.row
        and main_species.species = caught.species
)

select * from final
